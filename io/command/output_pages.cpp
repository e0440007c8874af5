#include "io/command/output_pages.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "io/case/explain.h"
#include "io/case/overrides.h"
#include "io/command/case_index.h"
#include "io/report/summary.h"
#include "io/store/field_file.h"
#include "solver/catalogue/catalogue.h"
#include "solver/solve.h"

namespace tabmelt::command {

using namespace report;
namespace {

struct Example {
  Case asked;
  Result result;
  Verdict verdict;
  std::vector<Quantity> quantities;
};

Example example() {
  Example made;
  made.asked = read_case_text(
      template_case(), "template.toml",
      {{"numerics.resolution", "0.3"}, {"numerics.end_time", "0.2 ms"}, {"numerics.frames", "2"}});
  made.result = solve(made.asked.problem);
  made.result.own_errors.emplace_back();
  made.verdict = judge(made.asked.problem, made.result);
  made.quantities = quantities(made.asked.problem, made.result, made.verdict,
                               bench_figures(made.asked.problem, made.result));
  return made;
}

std::string line(const std::string& key, const std::string& unit, const std::string& words) {
  return fmt::format("  {:<34} {:<8} {}\n", key, unit, words);
}

std::string series_lines(const Example& of) {
  std::string text;
  for (const Series& one : series_of_steps(of.result)) text += line(one.key, one.unit, one.words);
  return text;
}

std::string field_page(const Example& of) {
  std::string text =
      "result.vtkhdf\n"
      "  HDF5, VTKHDF 2.0 UnstructuredGrid in group VTKHDF; SI units. T stored moments, nz x nr\n"
      "  cells, M time steps.\n\n"
      "fields: shape (T, nz, nr); with a last axis (J_r, J_z, 0) where it says 3\n";
  for (const FieldArray& one : field_arrays())
    text += line(one.name, one.units,
                 std::string(one.long_name) +
                     (one.components > 1 ? fmt::format(", x {}", one.components) : ""));
  text += line("region_id, peak_temperature, ...", "1, K",
               "shape (nz, nr): regions and largest values") +
          line("time, z, r", "s, m, m", "shapes (T), (nz), (nr): the axes") +
          "\nseries: shape (M), one value per time step\n" + series_lines(of) +
          "\nresults: single numbers; time, r and z as attributes where they have a place\n";
  for (const Quantity& one : of.quantities) text += line(one.key, one.unit, one.words);
  return text +
         "\ntexts: UTF-8, one each: title, case_file, case, full_case, verdict, report, notes\n"
         "mesh: r_edges (nr+1), z_edges (nz+1) [m], region_names, region_roles\n";
}

std::string history_page(const Example& of) {
  return "history.csv\n  Comma-separated, one row per time step, heading key [unit].\n\n" +
         series_lines(of);
}

// Every key of a JSON object with its type; lists by their first entry.
void add_keys(const nlohmann::ordered_json& value, const std::string& path, std::string& text) {
  if (value.is_object()) {
    for (const auto& [name, inner] : value.items())
      add_keys(inner, path.empty() ? name : path + "." + name, text);
  } else if (value.is_array()) {
    if (value.empty())
      text += line(path + "[]", "", "list");
    else
      add_keys(value.front(), path + "[]", text);
  } else {
    text += line(path, "", value.type_name());
  }
}

std::string summary_page(const Example& of) {
  std::string text =
      "summary.json\n"
      "  JSON, SI units; a number that does not apply is null.\n"
      "  quantities.<topic>.<key> each hold value, unit, meaning, and time, r, z where they have "
      "a\n"
      "  place; their keys are those of results in result.vtkhdf (tabmelt explain "
      "result.vtkhdf).\n\n";
  auto summary = nlohmann::ordered_json::parse(
      summary_json(of.asked, of.result, of.verdict, 2, "2031-05-04T09:30:00Z"));
  summary.erase("quantities");
  add_keys(summary, "", text);
  return text;
}

std::string index_page(const Example& of) {
  std::string text =
      "index.csv\n"
      "  Comma-separated, one row per case of `tabmelt run`, SI units; then one column for each "
      "key\n"
      "  that differs between the cases.\n\n";
  const std::string csv =
      index_csv({index_row("template", of.asked, of.result, of.verdict)}, {&of.asked});
  std::istringstream heading(csv.substr(0, csv.find('\n')));
  for (std::string column; std::getline(heading, column, ',');) text += "  " + column + "\n";
  return text;
}

}  // namespace

const std::vector<std::string>& output_page_words() {
  static const std::vector<std::string> words{"output", "result.vtkhdf", "history.csv",
                                              "summary.json", "index.csv"};
  return words;
}

std::optional<std::string> output_page(const std::string& asked) {
  const auto& words = output_page_words();
  if (std::find(words.begin(), words.end(), asked) == words.end()) return std::nullopt;
  const Example of = example();
  const std::pair<std::string, std::string (*)(const Example&)> pages[] = {
      {"result.vtkhdf", field_page},
      {"history.csv", history_page},
      {"summary.json", summary_page},
      {"index.csv", index_page}};
  std::string text;
  for (const auto& [name, page] : pages)
    if (asked == "output" || asked == name) text += (text.empty() ? "" : "\n") + page(of);
  return text;
}

}  // namespace tabmelt::command
