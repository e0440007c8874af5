// Records as instruments and people leave them.
#include "io/inference/measured_trace.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>

#include "tests/support/temporary_folder.h"

namespace tabmelt {
namespace {

using inference::Channel;

class Traces : public ::testing::Test {
 protected:
  std::filesystem::path file(const std::string& text) const {
    const auto path = folder_.path() / "trace.csv";
    std::ofstream(path, std::ios::binary) << text;
    return path;
  }
  MeasuredTrace read(const std::string& text) const { return read_trace(file(text)); }
  std::string complaint(const std::string& text) const {
    try {
      MeasuredTrace trace = read(text);
      recorded(trace);
    } catch (const InputError& error) {
      std::string all;
      for (const Complaint& c : error.complaints())
        all += std::to_string(c.line) + ": " + c.message + "\n";
      return all;
    }
    return "";
  }
  const test::TemporaryFolder folder_;
};

// Twenty lines of a triangle of current; `change` may alter a line.
std::string lines(const std::string& head, const std::string& divider = ",",
                  const std::function<std::string(int, std::string)>& change = nullptr) {
  std::string text = head + "\n";
  for (int n = 0; n < 20; ++n) {
    std::string line =
        std::to_string(n) + divider + std::to_string(n < 12 ? 0 : 100 - 10 * std::abs(n - 15));
    text += (change ? change(n, line) : line) + "\n";
  }
  return text;
}

TEST_F(Traces, units_are_those_of_the_headings) {
  const MeasuredTrace t = read(lines("time [us],current (kA)"));
  ASSERT_EQ(t.channels.size(), 1u);
  EXPECT_EQ(t.channels[0].first, Channel::current);
  EXPECT_NEAR(t.channels[0].second.time[15], 15e-6, 1e-18);
  EXPECT_NEAR(t.channels[0].second.value[15], 1e5, 1e-9);
  EXPECT_NEAR(t.to, 19e-6, 1e-18);
}

TEST_F(Traces, columns_may_come_in_any_order_with_others_between) {
  const MeasuredTrace t =
      read("# a remark\n\nsource voltage [V];note;Time [ms];tip voltage [mV]\n" + [] {
        std::string text;
        for (int n = 0; n < 12; ++n)
          text += "12;x;" + std::to_string(n) + ";" + std::to_string(100 * n) + "\n";
        return text;
      }());
  ASSERT_EQ(t.channels.size(), 2u);
  EXPECT_EQ(t.channels[0].first, Channel::tip_voltage);
  EXPECT_NEAR(t.channels[0].second.value[3], 0.3, 1e-15);
  EXPECT_EQ(t.channels[1].second.value[3], 12);
}

TEST_F(Traces, decimal_commas_are_read_between_semicolons_and_refused_between_commas) {
  const auto with_commas = [](int n, const std::string& line) {
    return n == 14 ? std::string("14,5") + line.substr(2) : line;
  };
  EXPECT_DOUBLE_EQ(
      read(lines("time [s];current [A]", ";", with_commas)).channels[0].second.time[14], 14.5);
  const std::string refused = complaint(lines("time [s],current [A]", ",", with_commas));
  EXPECT_NE(refused.find("16: has 3 columns where the first line has 2: if these are decimal"),
            std::string::npos)
      << refused;
}

TEST_F(Traces, missing_values_leave_the_others) {
  MeasuredTrace t = read(lines("time [s],current [A]", ",", [](int n, const std::string& line) {
    return n == 3 ? std::string("3,nan") : n == 4 ? std::string("4,") : n == 5 ? "5" : line;
  }));
  EXPECT_EQ(t.channels[0].second.value.size(), 17u);
  ASSERT_EQ(t.notes.size(), 1u);
  EXPECT_NE(t.notes[0].find("3 of 20 values are missing"), std::string::npos) << t.notes[0];
}

TEST_F(Traces, windows_line_ends_and_byte_order_mark_are_no_matter) {
  std::string text = lines("time [s],current [A]");
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos; at += 2)
    text.replace(at, 1, "\r\n");
  EXPECT_EQ(read("\xEF\xBB\xBF" + text).channels[0].second.value.size(), 20u);
}

TEST_F(Traces, each_fault_is_named_with_its_line) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {"", "0: the file is empty"},
      {lines("time,current [A]"), "1: column \"time\" has no unit; write time [ms]"},
      {lines("time [s],current [V]"), "1: column \"current [V]\": the unit \"V\" "},
      {lines("time [A],current [A]"), "1: column \"time [A]\": the unit \"A\" "},
      {lines("time [s],current [florins]"), "the unit \"florins\" "},
      {lines("t [s],i [A]"), "1: the first line must name the columns"},
      {lines("time [s],power [W]"), "1: the first line must name the columns"},
      {lines("time [s],current [A]", ",",
             [](int n, const std::string& l) { return n == 9 ? "7,0" : l; }),
       "11: has a time that is not after the one before it (7 s after 8 s)"},
      {lines("time [s],current [A]", ",",
             [](int n, const std::string& l) { return n == 9 ? "9,much" : l; }),
       "11: \"much\" is no number (current)"},
      {"time [s],current [A]\n0,0\n1,100\n", "0: current: 2 values; a fit needs at least 10"},
      {lines("time [s],current [A]", ",",
             [](int n, const std::string&) {
               return std::to_string(n) + (n % 2 == 0 ? ",5" : n % 3 == 0 ? ",6" : ",4");
             }),
       "0: current: no pulse stands out of the noise"},
  };
  for (const auto& [text, expected] : cases)
    EXPECT_NE(complaint(text).find(expected), std::string::npos)
        << "wanted " << expected << "\ngot " << complaint(text);
  EXPECT_THROW(read_trace(folder_.path() / "nothing.csv"), InputError);
}

TEST_F(Traces, gaps_and_reversed_probes_are_noted) {
  const auto text = [](bool reversed) {
    std::string all = "time [us],current [A]\n";
    for (int n = 0; n < 2000; ++n) {
      if (n > 900 && n < 1000) continue;
      const double i = n < 500 || n > 1500 ? 0 : 1000;
      all += std::to_string(n) + "," + std::to_string((reversed ? -1 : 1) * i + n % 3) + "\n";
    }
    return all;
  };
  MeasuredTrace t = read(text(true));
  const inference::Record record = recorded(t);
  ASSERT_EQ(t.notes.size(), 2u);
  EXPECT_NE(t.notes[0].find("nothing recorded from 0.9 ms to 1 ms"), std::string::npos)
      << t.notes[0];
  EXPECT_NE(t.notes[1].find("upside down"), std::string::npos);
  EXPECT_GT(record.channels[0].trigger.height, 900);
  EXPECT_NEAR(record.channels[0].trigger.on, 0.5e-3, 1e-9);
}

}  // namespace
}  // namespace tabmelt
