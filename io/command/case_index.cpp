#include "io/command/case_index.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "io/files/whole_file.h"
#include "io/report/markdown_table.h"
#include "io/store/result_writer.h"
#include "io/study/study_words.h"
#include "solver/words/in_words.h"

namespace tabmelt::command {
namespace {

namespace fs = std::filesystem;
using Cells = std::vector<std::string>;

constexpr int most_indexes = 10000;  // in one folder

std::string state_words(RowState state) {
  if (state == RowState::wrong_input) return "wrong input";
  return state == RowState::computed ? "computed" : "not finished";
}

std::string cell_side_word(const Verdict& verdict) {
  if (!verdict.cell_judged) return "not judged";
  if (verdict.cell_safe) return "within limits";
  return verdict.cell_settled ? "EXCEEDED" : "not settled";
}

Cells cells_of(const IndexRow& row) {
  if (row.state != RowState::computed) return {row.name, state_words(row.state), "", "", ""};
  return {row.name, row.verdict, row.nugget > 0 ? in_words::length(row.nugget) : "none",
          row.margin_of.empty() ? "" : in_words::margin(row.margin) + "  " + row.margin_of,
          row.cell_side};
}

// Keys and values of a case as a map with its order.
struct Flat {
  std::vector<std::string> order;
  std::map<std::string, std::string> values;
  void add(const std::string& key, const std::string& value) {
    if (values.emplace(key, value).second) order.push_back(key);
  }
};

// What changes nothing about a weld.
bool is_note(const std::string& property) { return property == "description"; }

constexpr const char* materials = "materials.";

Flat flat(const Case& asked) {
  Flat all;
  for (const InputValue& input : asked.inputs)
    if (input.key != "title" && !input.key.starts_with("probe.")) all.add(input.key, input.value);
  for (const MaterialUsed& material : asked.materials)
    for (const InputValue& property : material.properties)
      if (!is_note(property.key))
        all.add(materials + material.name + "." + property.key, property.value);
  return all;
}

}  // namespace

const Finding* weakest_finding(const Verdict& verdict) {
  const Finding* weakest = nullptr;
  for (const Finding& finding : verdict.findings) {
    const bool of_the_bond =
        finding.outcome == Outcome::no_bond || finding.outcome == Outcome::stuck ||
        finding.outcome == Outcome::small_nugget || finding.outcome == Outcome::fused;
    if (of_the_bond && !finding.holds) continue;
    if (!weakest || finding.margin < weakest->margin) weakest = &finding;
  }
  return weakest;
}

IndexRow index_row(const std::string& name, const Case& asked, const Result& result,
                   const Verdict& verdict) {
  IndexRow row;
  row.name = name;
  row.file = asked.file.string();
  if (result.ending != Ending::finished) return row;
  row.state = RowState::computed;
  row.verdict = words(verdict.leading);
  row.good = verdict.good;
  row.nugget = verdict.nugget_diameter;
  row.smallest_good_nugget = verdict.smallest_good_nugget;
  if (const Finding* weakest = weakest_finding(verdict)) {
    row.margin = weakest->margin;
    row.margin_of = words(weakest->outcome);
  }
  row.cell_side = cell_side_word(verdict);
  row.peak_current = result.peak_current.value;
  row.peak_inner_wall = result.peak_inner_wall.value;
  row.energy = result.ledger.from_source;
  return row;
}

std::string index_text(const std::vector<IndexRow>& rows) {
  std::vector<Cells> lines{{"case", "verdict", "nugget", "weakest margin", "cell side"}};
  for (const IndexRow& row : rows) lines.push_back(cells_of(row));
  std::vector<std::size_t> widths(lines.front().size(), 0);
  for (const Cells& line : lines)
    for (std::size_t n = 0; n < line.size(); ++n)
      widths[n] = std::max(widths[n], report::width(line[n]));
  std::string text;
  for (const Cells& line : lines) {
    std::string written;
    for (std::size_t n = 0; n < line.size(); ++n) {
      const bool right = n == 2;
      written += "  " + report::padded(line[n], widths[n],
                                       right ? report::Align::right : report::Align::left);
    }
    text += written.substr(0, written.find_last_not_of(' ') + 1) + "\n";
  }
  return text;
}

std::vector<DifferingKey> differing_keys(const std::vector<const Case*>& cases) {
  std::vector<Flat> all;
  for (const Case* one : cases) all.push_back(one ? flat(*one) : Flat{});
  std::vector<DifferingKey> list;
  std::set<std::string> seen;
  for (const Flat& one : all)
    for (const std::string& key : one.order) {
      if (!seen.insert(key).second) continue;
      DifferingKey differing{key, {}};
      std::set<std::string> values;
      for (std::size_t n = 0; n < all.size(); ++n) {
        const auto found = all[n].values.find(key);
        differing.values.push_back(found == all[n].values.end() ? "" : found->second);
        // A material that a case does not use is named by the key that names another one.
        const bool unused = key.starts_with(materials) && found == all[n].values.end();
        if (cases[n] && !unused) values.insert(differing.values.back());
      }
      if (values.size() > 1) list.push_back(std::move(differing));
    }
  return list;
}

std::string index_csv(const std::vector<IndexRow>& rows, const std::vector<const Case*>& cases) {
  const std::vector<DifferingKey> keys = differing_keys(cases);
  Cells heading{"case",
                "file",
                "state",
                "verdict",
                "good",
                "nugget [m]",
                "smallest_good_nugget [m]",
                "weakest_margin [1]",
                "margin_of",
                "cell_side",
                "peak_current [A]",
                "peak_inner_wall [K]",
                "energy [J]"};
  const std::size_t own = heading.size();
  for (const DifferingKey& key : keys) heading.push_back(key.key);
  std::string text = csv_line(heading);
  for (std::size_t n = 0; n < rows.size(); ++n) {
    const IndexRow& row = rows[n];
    Cells cells{row.name, row.file, state_words(row.state)};
    if (row.state == RowState::computed) {
      const auto number = [](double value) { return fmt::format("{:.9g}", value); };
      for (const std::string& cell :
           {row.verdict, std::string(row.good ? "1" : "0"), number(row.nugget),
            number(row.smallest_good_nugget), number(row.margin), row.margin_of, row.cell_side,
            number(row.peak_current), number(row.peak_inner_wall), number(row.energy)})
        cells.push_back(cell);
    }
    cells.resize(own);
    for (const DifferingKey& key : keys) cells.push_back(key.values[n]);
    text += csv_line(cells);
  }
  return text;
}

fs::path write_index(const fs::path& folder, const std::string& csv) {
  std::error_code error;
  fs::create_directories(folder, error);
  for (int n = 1; n <= most_indexes; ++n) {
    const fs::path file = folder / (n == 1 ? "index.csv" : fmt::format("index-{}.csv", n));
    if (fs::exists(fs::symlink_status(file, error))) continue;
    if (const auto reason = failure_to_create(file, csv))
      throw LostOutputError(fmt::format("cannot write {}: {}", file.string(), *reason));
    return file;
  }
  throw OutputError(fmt::format("{} holds {} indexes already", folder.string(), most_indexes));
}

}  // namespace tabmelt::command
