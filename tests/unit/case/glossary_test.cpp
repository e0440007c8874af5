// One list of words: explained, without doubles, and the verdicts are in it.
#include "solver/words/glossary.h"

#include <gtest/gtest.h>

#include <set>

#include "io/case/explain.h"
#include "tests/support/contains.h"

namespace tabmelt::testing {
namespace {

TEST(Glossary, every_name_stands_once_and_ends_its_meaning_with_a_full_stop) {
  std::set<std::string> names;
  for (const Term& term : glossary()) {
    EXPECT_TRUE(names.insert(term.word).second) << term.word;
    for (const std::string& other : term.also) EXPECT_TRUE(names.insert(other).second) << other;
    EXPECT_GT(term.meaning.size(), 20u) << term.word;
    EXPECT_EQ(term.meaning.back(), '.') << term.word;
  }
}

TEST(Glossary, finds_by_any_name_and_spelling) {
  ASSERT_NE(find_term("Stick-Weld"), nullptr);
  EXPECT_EQ(find_term("stuck")->word, "stick weld");
  EXPECT_EQ(find_term("stick_weld")->word, "stick weld");
  EXPECT_EQ(find_term("splash")->word, "expulsion (splash)");
  EXPECT_EQ(find_term("xyz"), nullptr);
}

TEST(Glossary, is_explained) {
  EXPECT_TRUE(contains(explain("stick weld"), "One side melted"));
  EXPECT_TRUE(contains(explain("shunting"), "slit"));
  // A word that is a key as well gets both.
  EXPECT_TRUE(contains(explain("force"), "electrode force"));
  EXPECT_TRUE(contains(explain("force"), "pressing.force"));
  for (const Term& term : glossary()) EXPECT_TRUE(contains(explain_all(), term.word)) << term.word;
}

TEST(Glossary, a_misspelt_word_names_the_nearest) {
  const std::string text = explain("stik weld");
  EXPECT_TRUE(text.starts_with("unknown ")) << text;
  EXPECT_TRUE(contains(text, "\"stick weld\"")) << text;
}

// What a person reads never says how the author knew it.
TEST(Explain, never_says_from_memory_but_once_that_some_works_were_not_checked) {
  const std::string all = explain_all();
  EXPECT_FALSE(contains(all, "from memory"));
  const std::string note = "not checked against the publication";
  EXPECT_TRUE(contains(all, note));
  EXPECT_EQ(all.find(note), all.rfind(note));
}

TEST(Explain, words_for_a_shell_hold_no_blanks) {
  for (const std::string& word : explained_words()) {
    EXPECT_FALSE(contains(word, " ")) << word;
    EXPECT_FALSE(explain(word).starts_with("unknown ")) << word;
  }
}

}  // namespace
}  // namespace tabmelt::testing
