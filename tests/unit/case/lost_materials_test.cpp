// A program that finds no materials says where it looked.
#include <gtest/gtest.h>

#include "io/case/metals/material_shelf.h"
#include "tests/support/contains.h"

namespace tabmelt::testing {
namespace {

TEST(LostMaterials, are_told_with_the_folders_that_were_searched) {
  ComplaintLog log;
  MaterialShelf shelf(nullptr, log, {"/nowhere/materials", "/not/here"});
  EXPECT_EQ(shelf.find("nickel-200", "case.toml", 3), nullptr);
  try {
    log.throw_if_any();
    FAIL();
  } catch (const InputError& error) {
    const std::string text = error.complaints().front().message;
    EXPECT_TRUE(contains(text, "/nowhere/materials, /not/here")) << text;
    EXPECT_TRUE(contains(text, "into one of these folders")) << text;
  }
}

}  // namespace
}  // namespace tabmelt::testing
