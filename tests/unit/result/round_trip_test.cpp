// What is written comes back, value by value.

#include <gtest/gtest.h>

#include <thread>

#include "io/store/findings_text.h"
#include "io/store/result_reader.h"
#include "io/store/result_writer.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

TEST(RoundTrip, grid_regions_and_names_come_back) {
  const sample::Folder folder;
  const StoredRun run = read_result_file(sample::write(folder.path()));
  const Result wrote = sample::finished();
  EXPECT_TRUE(run.complete);
  EXPECT_EQ(run.r_edges, wrote.grid.r_edges());
  EXPECT_EQ(run.z_edges, wrote.grid.z_edges());
  EXPECT_EQ(run.region, wrote.grid.regions());
  EXPECT_TRUE(run.parts == wrote.parts);
  EXPECT_EQ(run.title, sample::asked().title);
  EXPECT_FALSE(run.program_version.empty());
}

TEST(RoundTrip, frames_come_back_and_empty_cells_hold_the_ambient) {
  const sample::Folder folder;
  const StoredRun run = read_result_file(sample::write(folder.path()));
  ASSERT_EQ(run.frame_times.size(), sample::frames);
  std::size_t empty_cells = 0;
  // Out of order: frames are read on demand.
  for (const std::size_t k : {std::size_t{3}, std::size_t{0}, std::size_t{2}, std::size_t{1}}) {
    const Frame wrote = sample::frame(k, sample::finished().grid);
    const Frame got = run.frame(k);
    EXPECT_EQ(got.time, wrote.time);
    EXPECT_EQ(run.frame_times[k], wrote.time);
    ASSERT_EQ(got.temperature.size(), run.region.size());
    ASSERT_EQ(got.current_density.size(), 3 * run.region.size());
    for (std::size_t cell = 0; cell < run.region.size(); ++cell) {
      const bool empty = run.region[cell] == mesh::empty;
      empty_cells += empty;
      EXPECT_EQ(got.temperature[cell], empty ? 296.0F : wrote.temperature[cell]);
      EXPECT_EQ(got.liquid_fraction[cell], empty ? 0.0F : wrote.liquid_fraction[cell]);
      EXPECT_EQ(got.potential[cell], empty ? 0.0F : wrote.potential[cell]);
      for (std::size_t n = 0; n < 3; ++n) {
        EXPECT_EQ(got.current_density[3 * cell + n],
                  empty ? 0.0F : wrote.current_density[3 * cell + n]);
      }
    }
  }
  EXPECT_GT(empty_cells, 0U);
  EXPECT_THROW(run.frame(sample::frames), std::out_of_range);
}

TEST(RoundTrip, history_of_a_cell_is_that_of_its_frames) {
  const sample::Folder folder;
  const StoredRun run = read_result_file(sample::write(folder.path()));
  for (const std::size_t cell : {std::size_t{0}, run.region.size() / 2, run.region.size() - 1}) {
    const auto potential = run.history(&Frame::potential, cell);
    const auto current = run.history(&Frame::current_density, cell);
    ASSERT_EQ(potential.size(), sample::frames);
    ASSERT_EQ(current.size(), 3 * sample::frames);
    for (std::size_t k = 0; k < sample::frames; ++k) {
      const Frame frame = run.frame(k);
      EXPECT_EQ(potential[k], frame.potential[cell]);
      for (std::size_t n = 0; n < 3; ++n) {
        EXPECT_EQ(current[3 * k + n], frame.current_density[3 * cell + n]);
      }
    }
  }
  EXPECT_THROW(run.history(&Frame::potential, run.region.size()), std::out_of_range);
}

TEST(RoundTrip, series_peaks_numbers_and_texts_come_back) {
  const sample::Folder folder;
  const StoredRun run = read_result_file(sample::write(folder.path()));
  const Result wrote = sample::finished();
  for (const auto& [name, values] : run.series) EXPECT_EQ(values.size(), sample::steps) << name;
  for (std::size_t n = 0; n < sample::steps; ++n) {
    EXPECT_EQ(run.series.at("time")[n], wrote.history[n].time);
    EXPECT_EQ(run.series.at("current")[n], wrote.history[n].current);
    EXPECT_EQ(run.series.at("layer_insulating_disc")[n], wrote.history[n].layer_temperature[0]);
    EXPECT_EQ(run.series.at("probe_wall__centre")[n], wrote.history[n].probes[0]);
    EXPECT_EQ(run.series.at("probe_a_b")[n], wrote.history[n].probes[1]);
    EXPECT_EQ(run.series.at("newton_iterations")[n], wrote.history[n].newton_iterations);
  }
  for (std::size_t cell = 0; cell < run.region.size(); ++cell) {
    if (run.region[cell] == mesh::empty) continue;
    EXPECT_EQ(run.peak_temperature.at(cell), wrote.peak_temperature[cell]);
    EXPECT_EQ(run.peak_liquid_fraction.at(cell), wrote.peak_liquid_fraction[cell]);
  }
  EXPECT_EQ(run.scalars.at("peak_current"), 1500);
  EXPECT_EQ(run.scalars.at("peak_current_time"), 0.4e-3);
  EXPECT_EQ(run.scalars.at("ledger_strip"), 3.5);
  EXPECT_EQ(run.scalars.at("nugget_diameter"), 0.9e-3);
  EXPECT_EQ(run.scalars.at("bench_source_peak_part_current"), 75);
  EXPECT_EQ(run.scalars.at("bench_source_part_voltage"), 15);
  EXPECT_EQ(run.scalars.at("inner_wall_limit"), 353.15);
  EXPECT_EQ(run.scalars.at("cell_side_1_peak"), 360);
  EXPECT_EQ(run.scalars.at("strip_solidus"), 1726);
  EXPECT_EQ(run.scalars.at("load_resistance_start"), wrote.history[0].load_resistance);
  EXPECT_EQ(run.scalars.at("load_resistance_least"), wrote.history[5].load_resistance);
  EXPECT_EQ(run.scalars.at("cell_safe"), 0);
  EXPECT_EQ(run.scalars.count("cell_side_2_limit"), 0U);
  EXPECT_EQ(run.texts.at("case"), sample::asked().text);
  EXPECT_EQ(run.texts.at("full_case"), sample::asked().full_text);
  EXPECT_EQ(run.texts.at("verdict"), sample::verdict().sentence);
  EXPECT_EQ(run.texts.at("report"), sample::file_text(folder / "report.md"));
}

TEST(RoundTrip, findings_come_back_and_lines_that_are_none_are_left_out) {
  const sample::Folder folder;
  const StoredRun run = read_result_file(sample::write(folder.path()));
  const Verdict wrote = sample::verdict();
  ASSERT_EQ(run.findings.size(), wrote.findings.size());
  for (std::size_t n = 0; n < wrote.findings.size(); ++n) {
    EXPECT_EQ(run.findings[n].key, key(wrote.findings[n].outcome));
    EXPECT_EQ(run.findings[n].quantity, wrote.findings[n].quantity);
    EXPECT_EQ(run.findings[n].value, wrote.findings[n].value);
    EXPECT_EQ(run.findings[n].limit, wrote.findings[n].limit);
    EXPECT_EQ(run.findings[n].margin, wrote.findings[n].margin);
    EXPECT_EQ(run.findings[n].z, wrote.findings[n].z);
    EXPECT_EQ(run.findings[n].holds, wrote.findings[n].holds);
  }
  EXPECT_TRUE(findings_in("").empty());
  EXPECT_TRUE(findings_in("a\tb\n\t\t\t\t\t\t\t\t\t\t\n").empty());
  EXPECT_TRUE(findings_in("k\tw\tq\tnan\t1\tm\t0\t0\t0\t0\t1\n").empty());
  EXPECT_EQ(findings_in("k\tw\tq\t2\t1\tm\t-1\t0\t0\t0\t1\n").front().margin, -1);
}

TEST(RoundTrip, runs_may_be_written_and_read_side_by_side) {
  const sample::Folder folder;
  std::vector<std::thread> threads;
  std::vector<std::string> failures(8);
  for (std::size_t n = 0; n < failures.size(); ++n) {
    threads.emplace_back([&, n] {
      try {
        const StoredRun run = read_result_file(sample::write(folder / std::to_string(n)));
        if (run.frame(3).temperature != read_result_file(run.path).frame(3).temperature) {
          failures[n] = "frames differ";
        }
      } catch (const std::exception& error) {
        failures[n] = error.what();
      }
    });
  }
  for (auto& thread : threads) thread.join();
  for (const auto& failure : failures) EXPECT_EQ(failure, "");
}

}  // namespace
}  // namespace tabmelt
