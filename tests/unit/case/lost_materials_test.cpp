// A program that finds no materials says where it looked.
#include <gtest/gtest.h>

#include "io/case/metals/material_shelf.h"

namespace tabmelt::testing {
namespace {

TEST(LostMaterials, AreToldWithTheFoldersThatWereSearched) {
  ComplaintLog log;
  MaterialShelf shelf(nullptr, log, {"/nowhere/materials", "/not/here"});
  EXPECT_EQ(shelf.find("nickel-200", "case.toml", 3), nullptr);
  try {
    log.throw_if_any();
    FAIL();
  } catch (const InputError& error) {
    const std::string text = error.complaints().front().message;
    EXPECT_NE(text.find("/nowhere/materials, /not/here"), std::string::npos) << text;
    EXPECT_NE(text.find("into one of these folders"), std::string::npos) << text;
  }
}

}  // namespace
}  // namespace tabmelt::testing
