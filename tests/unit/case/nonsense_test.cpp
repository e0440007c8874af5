// Damaged case files: whatever they hold, reading ends with a case or with an InputError.
#include <gtest/gtest.h>

#include <random>

#include "io/case/explain.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

class Damage {
 public:
  explicit Damage(unsigned seed) : random_(seed) {}

  std::string done_to(std::string text) {
    const int times = 1 + number(4);
    for (int n = 0; n < times && !text.empty(); ++n) once(text);
    return text;
  }

 private:
  int number(int below) { return std::uniform_int_distribution<int>(0, below - 1)(random_); }
  std::size_t place(const std::string& text) {
    return static_cast<std::size_t>(number(static_cast<int>(text.size())));
  }

  void once(std::string& text) {
    static const std::string pieces[] = {
        "\"",    "[",   "]",           "[[layer]]\n", "=",  "\n",          "-",
        "1e308", "nan", "\"0 m\"",     "true",        "{",  "}",           "#",
        ".",     "'''", "\xff",        "\xc3",        "µ",  "degC",        "999999999999999999999",
        "inf",   ",",   "\\u0000",     "[cell]\n",    "/",  "lg(re 1 mW)", "(",
        ")",     "^-",  " since 1970", "@",           "0x", "1979-05-27"};
    switch (number(6)) {
      case 0:
        text.erase(place(text), static_cast<std::size_t>(1 + number(12)));
        break;
      case 1:
        text.insert(place(text), pieces[number(static_cast<int>(std::size(pieces)))]);
        break;
      case 2:
        text[place(text)] = static_cast<char>(number(256));
        break;
      case 3:
        text.insert(place(text), text.substr(place(text), static_cast<std::size_t>(number(60))));
        break;
      case 4:
        std::swap(text[place(text)], text[place(text)]);
        break;
      default: {
        const std::size_t at = text.find('\n', place(text));
        if (at != std::string::npos) text.erase(at, text.find('\n', at + 1) - at);
      }
    }
  }

  std::mt19937 random_;
};

void expect_an_answer(const std::string& text, int& sound, int& refused) {
  try {
    const Case c = read(text);
    EXPECT_TRUE(complaints(c.problem).empty());
    ++sound;
  } catch (const InputError& error) {
    ASSERT_FALSE(error.complaints().empty());
    for (const Complaint& complaint : error.complaints()) {
      EXPECT_FALSE(complaint.message.empty());
      EXPECT_LT(complaint.message.size(), 3000u) << complaint.message;
    }
    ++refused;
  } catch (const std::exception& error) {
    FAIL() << "left the reader: " << error.what() << "\n" << text;
  }
}

TEST(Nonsense, never_leaves_the_reader_other_than_by_input_error) {
  int sound = 0, refused = 0;
  for (unsigned seed = 0; seed < 2600; ++seed) {
    Damage damage(seed);
    const std::string base = seed % 4 == 0   ? pure_check
                             : seed % 4 == 1 ? opposed_battery
                             : seed % 4 == 2 ? whole_bench
                                             : bank_case;
    expect_an_answer(damage.done_to(base), sound, refused);
  }
  // The damage must be neither harmless nor always fatal, or this test would say nothing.
  EXPECT_GT(sound, 50);
  EXPECT_GT(refused, 1000);
}

TEST(Nonsense, deep_nesting_is_refused) {
  int sound = 0, refused = 0;
  expect_an_answer("x = " + std::string(10000, '['), sound, refused);
  expect_an_answer("x = " + std::string(200, '[') + std::string(200, ']'), sound, refused);
  EXPECT_EQ(refused, 2);
}

}  // namespace
}  // namespace tabmelt::testing
