// A report as plain content: headings, paragraphs, tables and lists, without a word about how they
// look. io/report/markdown.h and io/report/html.h turn it into text.
#pragma once

#include <initializer_list>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace tabmelt::report {

enum class Align { left, right };

// How a phrase stands out: `good` and `bad` are judgements.
enum class Tone { plain, strong, good, bad, code };

struct Phrase {
  std::string words;
  Tone tone = Tone::plain;
};

class Prose {
 public:
  Prose() = default;
  Prose(std::string words) : phrases_{{std::move(words)}} {}
  Prose(const char* words) : phrases_{{words}} {}
  Prose(std::initializer_list<Phrase> phrases) : phrases_(phrases) {}
  Prose& operator+=(Phrase phrase) {
    phrases_.push_back(std::move(phrase));
    return *this;
  }
  const std::vector<Phrase>& phrases() const { return phrases_; }

 private:
  std::vector<Phrase> phrases_;
};

// What a short version of the document may leave out.
enum class Weight { always, detail };

struct Column {
  std::string heading;
  Align align = Align::left;
  Weight weight = Weight::always;
};

class Table {
 public:
  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}
  // One cell per column; throws std::invalid_argument otherwise.
  void add_row(std::vector<Prose> cells);
  bool empty() const { return rows_.empty(); }
  const std::vector<Column>& columns() const { return columns_; }
  const std::vector<std::vector<Prose>>& rows() const { return rows_; }

 private:
  std::vector<Column> columns_;
  std::vector<std::vector<Prose>> rows_;
};

struct Bullets {
  std::vector<Prose> items;
};

// A line to be typed at a terminal.
struct CommandLine {
  std::string words;
};

using Block = std::variant<Prose, Table, Bullets, CommandLine>;

// The table, or these words in place of one without rows.
Block table_or(Table table, const char* words);

struct Section {
  std::string key;  // stable: "margins", "cell_side", ...
  std::string title;
  std::vector<Block> blocks;
};

struct Document {
  std::string title;
  bool good = false;         // what the verdict says, for its colour
  std::string outcome;       // the verdict in two or three words
  std::string sentence;      // the verdict with its reason
  std::vector<Prose> notes;  // right below it
  std::vector<Section> sections;
};

}  // namespace tabmelt::report
