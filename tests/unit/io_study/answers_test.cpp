// What stands between the searches and the person who asks: expressions, knobs, chances, tables.
#include <gtest/gtest.h>

#include <cstdio>

#include "io/case/explain.h"
#include "io/store/result_writer.h"
#include "io/study/advice_knobs.h"
#include "io/study/chance_study.h"
#include "io/study/expression.h"
#include "io/study/map_file.h"
#include "io/study/study_words.h"
#include "solver/study/judged_run.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt {
namespace {

TEST(Expression, knows_keys_and_quantities) {
  const Expression e("3*source.parallel + min(energy, 2)^2", {"source.parallel", "energy"});
  EXPECT_DOUBLE_EQ(e.at({4, 1.5}), 14.25);
  EXPECT_DOUBLE_EQ(e.at({4, 5}), 16);
  try {
    Expression("3*parts", {"source.parallel"});
    FAIL();
  } catch (const InputError& error) {
    EXPECT_NE(std::string(error.what()).find("source.parallel"), std::string::npos);
  }
  EXPECT_THROW(Expression("1 +", {"a"}), InputError);
}

const BenchKnob* find(const std::vector<BenchKnob>& knobs, const std::string& key) {
  for (const BenchKnob& knob : knobs)
    if (knob.knob.key == key) return &knob;
  return nullptr;
}

TEST(BenchKnobs, are_those_that_the_case_has) {
  const auto knobs = bench_knobs(read_case_text(template_case(), "/nowhere/case.toml"));
  for (const char* key : {"source.open_circuit_voltage", "switch.pulses.1.1", "pressing.force",
                          "electrode.tip_diameter", "strip.slit", "strip.thickness",
                          "leads.cross_section", "leads.length"})
    EXPECT_TRUE(find(knobs, key)) << key;
  EXPECT_FALSE(find(knobs, "source.parallel"));
  for (const BenchKnob& knob : knobs) {
    EXPECT_LE(knob.range.low, knob.range.start) << knob.knob.key;
    EXPECT_GE(knob.range.high, knob.range.start) << knob.knob.key;
    EXPECT_LT(knob.range.low, knob.range.high) << knob.knob.key;
  }
  EXPECT_TRUE(find(knobs, "strip.slit")->range.is_switch);
}

TEST(BenchKnobs, a_bank_stays_within_its_rating_and_the_longest_pulse_is_turned) {
  std::string text = template_case();
  text =
      text.substr(0, text.find("[source]")) +
      "[source]\nkind = \"capacitor bank\"\npart_capacitance = \"68 mF\"\npart_esr = \"8 mohm\"\n"
      "parallel = 12\nseries = 2\ncharge_voltage = \"7 V\"\nrated_voltage = \"6 V\"\n[switch]\n"
      "pulses = [[\"1 ms\", \"5 ms\"], [\"4 ms\", \"0 ms\"]]\n";
  const auto knobs = bench_knobs(read_case_text(text, "/nowhere/case.toml"));
  EXPECT_DOUBLE_EQ(find(knobs, "source.charge_voltage")->range.high, 12);
  EXPECT_TRUE(find(knobs, "source.parallel")->range.whole);
  EXPECT_TRUE(find(knobs, "switch.pulses.2.1"));
  EXPECT_FALSE(find(knobs, "switch.pulses.1.1"));
}

TEST(ChanceStudy, spreads_an_uncertain_knob_around_its_setting) {
  const test::TemporaryFolder folder;
  Processes alone;
  Study study({"weld",
               "/nowhere/case.toml",
               template_case(),
               {{"numerics.resolution", "0.3"}, {"numerics.end_time", "8 ms"}}},
              folder.path(), "1", alone);
  const std::vector<Knob> knobs{knob_of(study.base(), "pressing.force")};
  ChanceStudy chances(study, knobs, 6);
  const auto answers = chances.at({{30}, {45}});
  ASSERT_EQ(answers.size(), 2u);
  for (const auto& at : answers) {
    EXPECT_EQ(at.runs.size(), 7u);  // the setting itself, then the draws
    EXPECT_EQ(at.good.trials, 6u);
    // All may fail: the largest margin; none may: the least.
    EXPECT_LE(at.margin_at(1), at.margin_at(0.5));
    std::size_t good = 0;
    for (std::size_t n = 1; n < at.runs.size(); ++n) good += at.runs[n].good ? 1 : 0;
    EXPECT_EQ(at.margin_at(1) >= 0, good == 6);
  }
  EXPECT_EQ(answers[1].runs[0], study.over(knobs)({{45}})[0]);
  EXPECT_NE(answers[0].runs[3], answers[1].runs[3]);
  EXPECT_TRUE(ChanceStudy(study, knobs, 0).at({{30}})[0].runs.size() == 1);
}

TEST(Tables, quote_what_holds_commas) {
  EXPECT_EQ(csv_line({"a", "b,c", "d\"e"}), "a,\"b,c\",\"d\"\"e\"\n");
}

std::string shown(const std::string& command) {
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");
  char buffer[256];
  while (pipe && std::fgets(buffer, sizeof buffer, pipe)) text += buffer;
  if (pipe) pclose(pipe);
  return text;
}

TEST(MapFile, holds_values_units_meanings_and_the_case) {
  const test::TemporaryFolder folder;
  const Case read = read_case_text(template_case(), "/nowhere/case.toml");
  StudiedMap m{knob_span(read, "pressing.force=10..30 N"),
               knob_span(read, "strip.thickness=0.1..0.2 mm"),
               {},
               {{"nugget_diameter", "m", "nugget diameter"}},
               read.full_text,
               "A strip"};
  m.map.cells = 1;
  for (const char* region : {"fused", "no_bond", "fused", ""})
    m.map.corners.push_back({true, region, *region == 'f', 0.25, {0.5e-3}});
  const auto file = folder.path() / "map.h5";
  write_map_file(m, file);
  write_map_file(m, file);  // in place of the earlier one
  const std::string text = shown("h5dump " + file.string());
  if (text.empty()) GTEST_SKIP() << "h5dump is not installed";
  for (const char* words : {"pressing.force", "\"mm\"", "fused, no_bond", "0.0005", "\"N\"",
                            "[cell]", "DATASET \"computed\""})
    EXPECT_NE(text.find(words), std::string::npos) << words;
  EXPECT_NE(map_csv(m).find("10,0.1,1,fused,1,0.25,0.0005\n"), std::string::npos) << map_csv(m);
  EXPECT_THROW(write_map_file(m, "/proc/nowhere/map.h5"), OutputError);
}

}  // namespace
}  // namespace tabmelt
