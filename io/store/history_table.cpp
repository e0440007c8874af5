#include "io/store/history_table.h"

#include <fmt/format.h>

#include <iterator>

namespace tabmelt {
namespace {

std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace

std::string history_csv(const std::vector<Series>& columns,
                        const std::vector<StepRecord>& history) {
  fmt::memory_buffer table;
  auto out = std::back_inserter(table);
  const auto write_row = [&](const auto& field_of) {
    for (std::size_t n = 0; n < columns.size(); ++n) {
      fmt::format_to(out, "{}{}", n ? "," : "", field_of(columns[n]));
    }
    fmt::format_to(out, "\n");
  };
  write_row([](const Series& column) {
    return csv_field(fmt::format("{} [{}]", column.key, column.unit));
  });
  for (const StepRecord& step : history) {
    write_row([&](const Series& column) { return fmt::format("{:.9g}", column.value(step)); });
  }
  return fmt::to_string(table);
}

}  // namespace tabmelt
