// What reaches a terminal steers neither it nor the direction of reading.
#include "solver/words/printable.h"

#include <gtest/gtest.h>

#include <string>

namespace tabmelt::testing {
namespace {

TEST(Printable, leaves_words_in_any_script_alone) {
  for (const char* text : {"", "0.15 mm", "Nickel auf Stahl, 20 µm", "никель", "ニッケル", "🔋"})
    EXPECT_EQ(printable(text), text);
}

// Codes: ECMA-48 for C0 and C1, Unicode Standard Annex 9 for the marks of direction.
TEST(Printable, turns_every_control_character_into_a_space) {
  for (int c = 0; c < 0x20; ++c)
    EXPECT_EQ(printable(std::string(1, static_cast<char>(c))), " ") << c;
  EXPECT_EQ(printable("\x7f"), " ");
  for (int c = 0x80; c < 0xA0; ++c)
    EXPECT_EQ(printable(std::string("\xC2") + static_cast<char>(c)), " ") << c;
  EXPECT_EQ(printable("\xC2\xA0"), "\xC2\xA0") << "the first character that is none";
  for (const char* mark : {"\u061C", "\u200E", "\u200F", "\u2028", "\u2029", "\u202A", "\u202B",
                           "\u202C", "\u202D", "\u202E", "\u2066", "\u2067", "\u2068", "\u2069"})
    EXPECT_EQ(printable(mark), " ");
  EXPECT_EQ(printable("a\x1b[31mb"), "a [31mb");
}

TEST(Printable, keeps_line_ends_only_where_they_are_meant) {
  EXPECT_EQ(printable("a\nb"), "a b");
  EXPECT_EQ(printable_lines("a\nb\r\n"), "a\nb \n");
}

// Sound and unsound sequences: RFC 3629.
TEST(Printable, marks_bytes_that_are_no_characters) {
  EXPECT_EQ(printable("\x80"), "?");
  EXPECT_EQ(printable("\xC3"), "?") << "cut off";
  EXPECT_EQ(printable("\xC0\x9B"), "??") << "an escape, written too long";
  EXPECT_EQ(printable("\xE0\x80\x9B"), "???");
  EXPECT_EQ(printable("\xED\xA0\x80"), "???") << "half of a surrogate pair";
  EXPECT_EQ(printable("\xF4\x90\x80\x80"), "????") << "beyond the last character";
  EXPECT_EQ(printable("\xE2\x80z"), "??z");
}

TEST(Printable, tells_whether_there_are_control_characters) {
  EXPECT_FALSE(holds_control_characters("0.15 mm, 20 µm"));
  for (const char* text : {"\n", "a\x1b", "\x7f", "\xC2\x9B"})
    EXPECT_TRUE(holds_control_characters(text));
}

}  // namespace
}  // namespace tabmelt::testing
