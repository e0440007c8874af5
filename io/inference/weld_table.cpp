#include "io/inference/weld_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "io/case/complaint_log.h"
#include "io/case/units.h"
#include "io/inference/csv_rows.h"

namespace tabmelt {
namespace {

using inference::Note;

constexpr std::uintmax_t largest_table = 1'000'000;  // [bytes]

// What a column is: a key, a note, a force, or nothing that matters.
struct WeldColumn {
  std::optional<std::size_t> knob;
  std::optional<Note> note;
  bool force = false;
  std::string unit;
  std::string heading;
};

constexpr std::pair<const char*, Note> note_headings[] = {{"held", Note::held},
                                                          {"peel", Note::button},
                                                          {"spark", Note::spark},
                                                          {"stuck tip", Note::stuck_tip},
                                                          {"hole", Note::hole}};

std::optional<bool> yes_or_no(const std::string& cell, Note note) {
  const std::string word = in_lower_case(cell);
  for (const char* yes : {"yes", "y", "true", "1"})
    if (word == yes) return true;
  for (const char* no : {"no", "n", "false", "0", "none"})
    if (word == no) return false;
  if (note == Note::button && word == "button") return true;
  if (note == Note::button && word == "clean") return false;
  return std::nullopt;
}

class WeldReader {
 public:
  WeldReader(const std::filesystem::path& file, const Case& read) : case_(read) {
    table_.file = file;
  }

  WeldTable read() {
    const std::string text = text_of(table_.file, largest_table);
    std::vector<CsvRow> rows;
    char divider = ',';
    try {
      divider = read_csv(text, [&](CsvRow& row) {
        rows.push_back(row);
        return true;
      });
    } catch (const std::runtime_error& error) {
      complain(0, error.what());
    }
    if (rows.empty())
      complain(0,
               "the file is empty; its first line names the columns: keys of the case, and "
               "held, peel, peel force [N], spark, stuck tip, hole");
    else
      take_headings(rows.front());
    for (std::size_t n = 1; n < rows.size() && complaints_.empty(); ++n) take(rows[n], divider);
    if (complaints_.empty() && table_.welds.empty())
      complain(0,
               "no weld has an outcome: fill in held, peel, peel force, spark, stuck tip or hole");
    if (!complaints_.empty()) throw InputError(std::move(complaints_));
    return std::move(table_);
  }

 private:
  void complain(int line, const std::string& message) {
    complaints_.push_back({table_.file.string(), line, "", message});
  }

  void take_headings(const CsvRow& row) {
    for (const std::string& cell : row.cells) {
      const Heading heading = heading_of(cell);
      WeldColumn column;
      column.unit = heading.unit;
      column.heading = cell;
      for (const auto& [name, note] : note_headings)
        if (heading.name == name) column.note = note;
      column.force = heading.name == "peel force";
      const bool ignored = heading.name.empty() || heading.name == "note" ||
                           heading.name == "date" || heading.name == "weld";
      if (column.force && column.unit.empty()) complain(row.line, "write peel force [N]");
      if (!column.note && !column.force && !ignored) take_key(cell, column, row.line);
      columns_.push_back(std::move(column));
    }
    const bool any = std::any_of(columns_.begin(), columns_.end(),
                                 [](const WeldColumn& c) { return c.note || c.force; });
    if (!any && complaints_.empty())
      complain(row.line,
               "no column is an outcome: held, peel, peel force [N], spark, stuck tip, "
               "hole");
  }

  // Keys keep their capitals, of materials for example.
  void take_key(const std::string& cell, WeldColumn& column, int line) {
    const auto open = cell.find_first_of("[(");
    std::string key = cell.substr(0, open);
    while (!key.empty() && key.back() == ' ') key.pop_back();
    try {
      const auto address = address_of(key);
      if (!address && key.find('.') == std::string::npos)
        return complain(line, fmt::format("column \"{}\" is neither a key of the case nor one of "
                                          "held, peel, peel force [N], spark, stuck tip, hole, "
                                          "note, date, weld",
                                          cell));
      if (address && address->is_switch()) {
        const bool now = CaseValues(case_.full_text).flag(*address).value_or(false);
        table_.knobs.push_back({key, *address, now ? 1.0 : 0.0});
      } else {
        table_.knobs.push_back(knob_of(case_, key));
      }
      column.knob = table_.knobs.size() - 1;
      if (!column.unit.empty()) units::in_si(1.0, column.unit, table_.knobs.back().unit());
    } catch (const InputError& error) {
      for (const Complaint& c : error.complaints()) complain(line, c.message);
    } catch (const units::UnitError& error) {
      complain(line,
               fmt::format("column \"{}\": the unit \"{}\" {}", cell, column.unit, error.what()));
    }
  }

  void take(const CsvRow& row, char divider) {
    if (row.cells.size() > columns_.size())
      return complain(row.line, fmt::format("has {} columns where the first line has {}: decimal "
                                            "commas need semicolons between the columns",
                                            row.cells.size(), columns_.size()));
    TestWeld weld;
    weld.line = row.line;
    for (const Knob& knob : table_.knobs) weld.settings.push_back(knob.value);
    for (std::size_t c = 0; c < row.cells.size(); ++c)
      if (!is_blank(row.cells[c])) take_cell(row.cells[c], columns_[c], divider, weld);
    if (weld.noted.empty())
      table_.notes.push_back(fmt::format("line {}: no outcome noted, it says nothing", row.line));
    else
      table_.welds.push_back(std::move(weld));
  }

  void take_cell(const std::string& cell, const WeldColumn& column, char divider, TestWeld& weld) {
    if (column.note) {
      const auto yes = yes_or_no(cell, *column.note);
      if (!yes)
        return complain(
            weld.line, fmt::format("\"{}\" is no answer to {}; write {} or leave it blank", cell,
                                   column.heading,
                                   *column.note == Note::button ? "button or clean" : "yes or no"));
      weld.noted.yes[static_cast<std::size_t>(*column.note)] = *yes;
    } else if (column.force) {
      weld.noted.peel_force = quantity(cell, column.unit, "N", divider, weld.line, column.heading);
      if (weld.noted.peel_force && *weld.noted.peel_force < 0)
        complain(weld.line, "a peel force is not negative");
    } else if (column.knob) {
      take_setting(cell, column, divider, weld);
    }
  }

  void take_setting(const std::string& cell, const WeldColumn& column, char divider,
                    TestWeld& weld) {
    const Knob& knob = table_.knobs[*column.knob];
    double& setting = weld.settings[*column.knob];
    if (knob.is_switch()) {
      const auto yes = yes_or_no(cell, Note::held);
      if (!yes)
        return complain(weld.line, fmt::format("\"{}\" is not yes or no ({})", cell, knob.key));
      setting = *yes ? 1 : 0;
      return;
    }
    const auto value = quantity(cell, column.unit, knob.unit(), divider, weld.line, knob.key);
    if (!value) return;
    setting = *value;
    const double low = knob.address.lowest(), high = knob.address.highest();
    if (setting < low * (1 - 1e-12) || setting > high * (1 + 1e-12))
      complain(weld.line, fmt::format("{}: {} is out of range; allowed is {} to {}", knob.key, cell,
                                      knob.words(low), knob.words(high)));
  }

  std::optional<double> quantity(const std::string& cell, const std::string& unit,
                                 const std::string& natural, char divider, int line,
                                 const std::string& what) {
    try {
      const auto number = number_in(cell, divider);
      if (number && !std::isfinite(*number)) throw units::UnitError("is no number");
      if (number && (!unit.empty() || natural == "1"))
        return units::in_si(*number, unit.empty() ? "1" : unit, natural);
      return units::in_si(cell, natural);
    } catch (const units::UnitError& error) {
      complain(line, fmt::format("{}: \"{}\" {}", what, cell, error.what()));
      return std::nullopt;
    }
  }

  const Case& case_;
  WeldTable table_;
  std::vector<WeldColumn> columns_;
  std::vector<Complaint> complaints_;
};

}  // namespace

WeldTable read_welds(const std::filesystem::path& file, const Case& read) {
  return WeldReader(file, read).read();
}

std::string setting_words(const std::vector<Knob>& knobs, const study::Point& settings) {
  std::string text;
  for (std::size_t k = 0; k < knobs.size(); ++k)
    text += (k > 0 ? ", " : "") + knobs[k].key + " " + knobs[k].words(settings[k]);
  return text.empty() ? "the case as it stands" : text;
}

std::vector<Disagreement> disagreements(const WeldTable& table) {
  std::vector<Disagreement> list;
  for (std::size_t a = 0; a < table.welds.size(); ++a)
    for (std::size_t b = a + 1; b < table.welds.size(); ++b) {
      const TestWeld &one = table.welds[a], &other = table.welds[b];
      if (one.settings != other.settings) continue;
      for (std::size_t n = 0; n < inference::notes; ++n)
        if (one.noted.yes[n] && other.noted.yes[n] && *one.noted.yes[n] != *other.noted.yes[n])
          list.push_back({one.line, other.line, words(static_cast<Note>(n))});
    }
  return list;
}

}  // namespace tabmelt
