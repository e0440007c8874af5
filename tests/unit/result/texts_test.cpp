// history.csv, summary.json, report.md and the units for people.

#include <gtest/gtest.h>

#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>

#include "io/report/cell_side.h"
#include "io/report/markdown_table.h"
#include "io/report/report.h"
#include "io/store/history_table.h"
#include "sample_run.h"
#include "solver/words/in_words.h"
#include "tests/support/contains.h"

namespace tabmelt {

using namespace report;
namespace {

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

TEST(History, has_a_heading_with_units_and_a_row_per_step) {
  const sample::Folder folder;
  sample::write(folder.path());
  const auto rows = lines(sample::file_text(folder / "history.csv"));
  ASSERT_EQ(rows.size(), 1 + sample::steps);
  EXPECT_EQ(rows[0].rfind("time [s],step [s],current [A],", 0), 0U) << rows[0];
  EXPECT_TRUE(contains(rows[0], ",layer_insulating_disc [K],probe_wall__centre [K],probe_a_b [K]"))
      << rows[0];
  EXPECT_EQ(rows[1].rfind("0.000333333333,0.000333333333,100,", 0), 0U) << rows[1];
  EXPECT_EQ(rows[7].substr(rows[7].size() - 12), ",308,317,327") << rows[7];
  const auto commas = [](const std::string& row) {
    return std::count(row.begin(), row.end(), ',');
  };
  for (std::size_t n = 1; n < rows.size(); ++n) EXPECT_EQ(commas(rows[n]), commas(rows[0]));
}

TEST(History, dataset_names_are_plain_and_unique) {
  EXPECT_EQ(key_of("probe_a/b", {}), "probe_a_b");
  EXPECT_EQ(key_of("probe_a.b", {"probe_a_b"}), "probe_a_b_2");
  EXPECT_EQ(key_of("probe_a b", {"probe_a_b", "probe_a_b_2"}), "probe_a_b_3");
}

TEST(Summary, holds_the_documented_keys_and_values) {
  const sample::Folder folder;
  sample::write(folder.path());
  const auto json = nlohmann::json::parse(sample::file_text(folder / "summary.json"));
  for (const char* key :
       {"schema", "schema_version", "program_version", "date", "title", "case_file", "ending",
        "verdict", "quantities", "cell_side", "warnings", "frames", "defaults", "notes"}) {
    EXPECT_TRUE(json.contains(key)) << key;
  }
  EXPECT_EQ(json["ending"]["state"], "finished");
  EXPECT_EQ(json["verdict"]["leading"], key(Outcome::cell_overheated));
  EXPECT_EQ(json["verdict"]["good"], false);
  EXPECT_EQ(json["verdict"]["findings"].size(), 2U);
  EXPECT_EQ(json["verdict"]["findings"][0]["value"], 371.15);
  EXPECT_EQ(json["verdict"]["findings"][0]["margin"], -0.3);
  const auto& all = json["quantities"];
  EXPECT_EQ(all["weld"]["nugget_diameter"]["value"], 0.9e-3);
  EXPECT_DOUBLE_EQ(all["weld"]["strip_penetration_share"]["value"], 0.4);
  EXPECT_DOUBLE_EQ(all["weld"]["can_penetration_share"]["value"], 0.15);
  EXPECT_EQ(all["heat"]["peak_inner_wall"]["time"], 8e-3);
  EXPECT_DOUBLE_EQ(all["electrical"]["current_per_capacitor"]["value"], 75);
  const auto& ledger = all["energy"];
  double sinks = 0;
  for (const auto& [name, line] : ledger.items())
    if (name != "ledger_from_source" && name != "ledger_stored_before" &&
        name != "ledger_left_in_source")
      sinks += line["value"].get<double>();
  EXPECT_DOUBLE_EQ(sinks, ledger["ledger_from_source"]["value"]);
  EXPECT_EQ(json["cell_side"].size(), 3U);
  EXPECT_EQ(json["cell_side"][0]["passes"], false);
  EXPECT_EQ(json["cell_side"][1]["passes"], true);
  EXPECT_TRUE(json["cell_side"][2]["passes"].is_null());
  EXPECT_FALSE(all["cell_side"].contains("cell_side_2_limit"));
  EXPECT_DOUBLE_EQ(all["bench"]["bench_source_peak_part_current"]["value"], 75);
  EXPECT_EQ(all["bench"]["bench_source_peak_part_current"]["unit"], "A");
  ASSERT_EQ(json["warnings"].size(), 2U);  // 75 A of 50 A, 18 V of 16 V with the spread
  EXPECT_EQ(all["run"]["steps"]["value"], sample::steps);
  EXPECT_EQ(json["frames"], sample::frames);
  EXPECT_EQ(json["defaults"][0]["key"], "strip.width");
}

TEST(Report, says_what_a_welder_asks_for) {
  const sample::Folder folder;
  sample::write(folder.path());
  const std::string report = sample::file_text(folder / "report.md");
  const auto rows = lines(report);
  ASSERT_GT(rows.size(), 3U);
  EXPECT_EQ(rows[0], "# Cargo-bike pack, 0.15 mm nickel \\| trial");
  EXPECT_EQ(rows[2], "**Fused, but the inner wall passes its limit: shorten the pulse.**");
  for (const char* part : {"98.0 °C",
                           "80.0 °C",
                           "-30 %",
                           "r 0.2 mm, z -0.3 mm",
                           "Shorten the pulse to 3 ms.",
                           "1500 A",
                           "1.9 mΩ",
                           "1.4 mΩ",
                           "0.61 V",
                           "0.42 V",
                           "0.9 mm",
                           "Smallest good nugget",
                           "0.6 mm",
                           "40 %",
                           "15 %",
                           "106 N",
                           "21 N",
                           "**FAIL**",
                           "pass",
                           "not judged",
                           "12 ms",
                           "4 J",
                           "22.1 %",
                           "75 A",
                           "**exceeds** the rated 50 A",
                           "within the rated 16 V",
                           "never driven negative",
                           "0.25 J",
                           "3.1 J",
                           "bench \\| habit",
                           "strip.width",
                           "held at its last value",
                           "Flow of the melt",
                           "1-6 % hotter",
                           "The contacts are the largest uncertainty",
                           "vent",
                           "eye protection",
                           "Peel-test",
                           "qualified practice",
                           "tabmelt run 'my cases/cargo bike.toml' -o "}) {
    EXPECT_TRUE(contains(report, part)) << part;
  }
  // Every row of a table has as many bars as its heading.
  const auto bars = [](std::string row) {
    for (auto at = row.find("\\|"); at != std::string::npos; at = row.find("\\|")) row.erase(at, 2);
    return std::count(row.begin(), row.end(), '|');
  };
  for (std::size_t n = 1; n < rows.size(); ++n) {
    if (rows[n].rfind('|', 0) == 0 && rows[n - 1].rfind('|', 0) == 0) {
      EXPECT_EQ(bars(rows[n]), bars(rows[n - 1])) << rows[n];
    }
  }
}

TEST(Report, tells_sources_and_arrangements_apart) {
  Case asked = sample::asked();
  asked.problem.arrangement.spots = 1;
  asked.problem.under_tip().fixed.emplace();
  asked.problem.joint(0).fixed.emplace();
  asked.problem.circuit.source = circuit::Battery{12, 5e-3, 900.0};
  asked.defaults.clear();
  Result run = sample::finished();
  run.history.clear();
  run.notes.clear();
  const std::string report = report_text(asked, run, sample::verdict(), "out");
  EXPECT_TRUE(contains(report, "**exceeds** the rated 900 A"));
  EXPECT_FALSE(contains(report, "Left in the bank"));
  EXPECT_FALSE(contains(report, "two electrodes"));
  EXPECT_FALSE(contains(report, "0.04 to 0.6"));
  EXPECT_FALSE(contains(report, "Resistance of all spots"));
  EXPECT_TRUE(contains(report, "None: the case gives every value."));
  EXPECT_TRUE(contains(report, "-o out\n"));
}

TEST(PeopleUnits, are_those_of_the_bench) {
  EXPECT_EQ(in_words::temperature(353.15), "80.0 °C");
  EXPECT_EQ(in_words::temperature(1728), "1455 °C");
  EXPECT_EQ(in_words::temperature(0), "n/a");
  EXPECT_EQ(in_words::length(0.15e-3), "0.15 mm");
  EXPECT_EQ(in_words::length(-0.3e-3), "-0.3 mm");
  EXPECT_EQ(in_words::duration(0), "0 ms");
  EXPECT_EQ(in_words::duration(4.213e-3), "4.21 ms");
  EXPECT_EQ(in_words::duration(85e-6), "85 µs");
  EXPECT_EQ(in_words::duration(1.352), "1.35 s");
  EXPECT_EQ(in_words::duration(0.9999), "1 s");
  EXPECT_EQ(in_words::resistance(4.12e-4), "0.412 mΩ");
  EXPECT_EQ(in_words::energy(12.34), "12.3 J");
  EXPECT_EQ(in_words::energy(4.2e-3), "4.2 mJ");
  EXPECT_EQ(in_words::energy(-1e-12), "> -0.001 µJ");
  EXPECT_EQ(in_words::mass(0), "0 mg");
  EXPECT_EQ(in_words::mass(3.7e-9), "3.7 µg");
  EXPECT_EQ(in_words::mass(-3.7e-9), "-3.7 µg");
  EXPECT_EQ(in_words::mass(0.9994e-6), "999 µg");
  EXPECT_EQ(in_words::mass(0.9996e-6), "1 mg");
  EXPECT_EQ(in_words::mass(1.2374e-6), "1.24 mg");
  EXPECT_EQ(in_words::mass(0.9996e-3), "1 g");
  EXPECT_EQ(in_words::mass(0.035), "35 g");
  EXPECT_EQ(in_words::mass(std::numeric_limits<double>::infinity()), "n/a");
  EXPECT_EQ(in_words::current(1234.4), "1234 A");
  EXPECT_EQ(in_words::current(999.7), "1000 A");
  EXPECT_EQ(in_words::percent(0.372), "37.2 %");
  EXPECT_EQ(in_words::damage(1e-7), "below 0.001 %");
  EXPECT_EQ(in_words::damage(0.24), "24 %");
  EXPECT_EQ(in_words::quantity(0.5, "1"), "50 %");
  EXPECT_EQ(in_words::quantity(4.25e-8, "kg"), "42.5 µg");
  EXPECT_EQ(in_words::quantity(3, "kg"), "3 kg");
  EXPECT_EQ(in_words::quantity(3, "m3"), "3 m3");
  EXPECT_EQ(in_words::quantity(std::numeric_limits<double>::quiet_NaN(), "K"), "n/a");
}

TEST(Report, breaks_lines_and_lists_long_cells_below_their_table) {
  Case asked = sample::asked();
  const std::string reason(30, 'r');
  asked.defaults = {{"strip.width", "8 mm", reason + " " + reason + " " + reason + " " + reason}};
  const std::string report = report_text(asked, sample::finished(), sample::verdict(), "out");
  for (const std::string& row : lines(report)) EXPECT_LE(row.size(), 130U) << row;
  EXPECT_TRUE(contains(report, "| strip.width | 8 mm  |\n\n- **strip.width** - *why*: " + reason))
      << report;
}

TEST(Report, a_place_is_told_to_a_hundredth_of_a_millimetre) {
  EXPECT_EQ(in_words::place(7.27e-6, -1.7e-4), "r 0.01 mm, z -0.17 mm");
  EXPECT_EQ(in_words::place(1e-7, -1e-7), "r 0 mm, z 0 mm");
}

TEST(CellSide, within_limits_does_not_hide_what_is_hot_without_a_limit) {
  Verdict v = sample::verdict();
  v.cell_safe = true;
  LayerRecord film;
  film.name = "electrolyte film";
  film.peak.value = 614 + 273.15;
  film.damage = 1;
  v.cell_side.push_back(film);
  EXPECT_TRUE(contains(cell_side_words(v), "within its limits; hot enough to boil electrolyte"));
  EXPECT_TRUE(contains(cell_side_words(v), "electrolyte film 614 °C"));
  EXPECT_EQ(damage_text(film), "-");
  v.cell_side.back().peak.value = 50 + 273.15;
  EXPECT_FALSE(contains(cell_side_words(v), "electrolyte film"));
}

TEST(MarkdownTable, pads_by_characters_and_refuses_ragged_rows) {
  const std::vector<Column> columns{{"A"}, {"B", Align::right}};
  EXPECT_EQ(markdown_table(columns, {{"°C", "x|y"}}),
            "| A    |    B |\n| ---- | ---: |\n| °C   | x\\|y |\n");
  EXPECT_THROW(Table(columns).add_row({"one"}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt
