// Numbers of a case that studies turn.
#include "io/study/knob.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "io/case/read_case.h"

namespace tabmelt {
namespace {

// A draw lays other values over a case; a number that follows from another one cannot take any.
TEST(Knobs, every_uncertain_key_of_every_case_may_take_another_value) {
  int cases = 0;
  for (const auto& entry : std::filesystem::directory_iterator(TABMELT_SOURCE_DIR "/cases")) {
    const std::filesystem::path file = entry.path() / "case.toml";
    if (!std::filesystem::exists(file)) continue;
    ++cases;
    std::ostringstream text;
    text << std::ifstream(file).rdbuf();
    for (const UncertainKey& key : uncertain_keys(read_case(file))) {
      const Override other = knob_of(key).at(1.001 * key.value);
      EXPECT_NO_THROW(read_case_text(text.str(), file, {other})) << file << " " << key.key;
    }
  }
  EXPECT_GT(cases, 15);
}

}  // namespace
}  // namespace tabmelt
