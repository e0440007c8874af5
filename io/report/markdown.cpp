#include "io/report/markdown.h"

#include <algorithm>
#include <cctype>
#include <sstream>

#include "io/report/markdown_table.h"
#include "solver/words/printable.h"

namespace tabmelt::report {
namespace {

// Words that stay words: what would open a tag (CommonMark 0.30, 6.6), an entity (2.5) or a link
// (6.3) is set off.
std::string harmless(const std::string& words) {
  std::string text;
  for (std::size_t n = 0; n < words.size(); ++n) {
    const auto next = static_cast<unsigned char>(n + 1 < words.size() ? words[n + 1] : ' ');
    const bool tag =
        words[n] == '<' && (std::isalpha(next) != 0 || next == '/' || next == '!' || next == '?');
    const bool entity = words[n] == '&' && (std::isalpha(next) != 0 || next == '#');
    const bool link = words[n] == ']' && (next == '(' || next == '[');
    if (tag || entity || link) text += '\\';
    text += words[n];
  }
  return text;
}

std::string marked(const std::string& words, Tone tone) {
  switch (tone) {
    case Tone::strong:
    case Tone::bad:
      return "**" + harmless(words) + "**";
    case Tone::code: {
      // Nothing but its end means anything inside.
      std::string code = words;
      std::replace(code.begin(), code.end(), '`', '\'');
      return "`" + code + "`";
    }
    case Tone::plain:
    case Tone::good:
      break;
  }
  return harmless(words);
}

std::string line(const Prose& text) {
  std::string words;
  for (const Phrase& phrase : text.phrases()) {
    words += marked(table_cell(phrase.words), phrase.tone);
  }
  return words;
}

// As a line, but markdown_table() itself takes care of lines and columns.
std::string cell(const Prose& text) {
  std::string words;
  for (const Phrase& phrase : text.phrases()) words += marked(phrase.words, phrase.tone);
  return words;
}

constexpr std::size_t page_width = 100;
// A table wider than a page has its widest columns listed below it, down to this many characters.
constexpr std::size_t narrow_cell = 16;

// At the start of a line these would begin a list, a heading, a quotation or a table.
bool may_begin_a_line(const std::string& word) {
  return word.find_first_of("-+*#>=|~0123456789") != 0 || word.starts_with("**");
}

// Breaks between words; lines after the first start with `indent`.
std::string wrapped(const std::string& text, const std::string& indent = "") {
  std::string result, line;
  std::istringstream rest(text);
  for (std::string word; rest >> word;) {
    if (!line.empty() && line.size() + 1 + word.size() > page_width && may_begin_a_line(word)) {
      result += line + "\n";
      line = indent + word;
    } else {
      line += (line.empty() ? "" : " ") + word;
    }
  }
  return result + line + "\n";
}

std::string small(std::string heading) {
  heading.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(heading.front())));
  return heading;
}

std::string plain_words(const Prose& text) {
  std::string words;
  for (const Phrase& phrase : text.phrases()) words += phrase.words;
  return words;
}

std::size_t widest_cell(const Table& table, std::size_t column) {
  std::size_t most = table.columns()[column].heading.size();
  for (const std::vector<Prose>& row : table.rows())
    most = std::max(most, plain_words(row[column]).size());
  return most;
}

// Which columns stay in the table: all that fit on a page, the widest go first.
std::vector<bool> columns_that_fit(const Table& table) {
  std::vector<bool> stays(table.columns().size(), true);
  std::size_t all = 1;
  for (std::size_t n = 0; n < stays.size(); ++n) all += widest_cell(table, n) + 3;
  while (all > page_width) {
    std::size_t widest = 0;
    for (std::size_t n = 1; n < stays.size(); ++n)
      if (stays[n] && (widest == 0 || widest_cell(table, n) > widest_cell(table, widest)))
        widest = n;
    if (widest == 0 || widest_cell(table, widest) < narrow_cell) break;
    stays[widest] = false;
    all -= widest_cell(table, widest) + 3;
  }
  return stays;
}

// One line inside a fence, which it cannot close.
std::string fenced(std::string words) {
  std::replace_if(
      words.begin(), words.end(), [](char c) { return c == '\n' || c == '\r'; }, ' ');
  return "```\n" + words + "\n```\n";
}

struct Writer {
  std::string operator()(const Prose& text) const { return wrapped(line(text)); }

  std::string operator()(const Table& table) const {
    const std::vector<bool> stays = columns_that_fit(table);
    std::vector<Column> columns;
    for (std::size_t n = 0; n < stays.size(); ++n)
      if (stays[n]) columns.push_back(table.columns()[n]);
    std::vector<std::vector<std::string>> rows;
    std::string below;
    for (const std::vector<Prose>& row : table.rows()) {
      std::vector<std::string> cells;
      std::string longer;
      for (std::size_t n = 0; n < stays.size(); ++n) {
        if (stays[n])
          cells.push_back(cell(row[n]));
        else if (!plain_words(row[n]).empty())
          longer += (longer.empty() ? "" : "; ") + ("*" + small(table.columns()[n].heading)) +
                    "*: " + line(row[n]);
      }
      rows.push_back(std::move(cells));
      if (!longer.empty()) below += wrapped("- **" + line(row.front()) + "** - " + longer, "  ");
    }
    return markdown_table(columns, std::move(rows)) + (below.empty() ? "" : "\n" + below);
  }

  std::string operator()(const Bullets& bullets) const {
    std::string text;
    for (const Prose& item : bullets.items) text += wrapped("- " + line(item), "  ");
    return text;
  }

  std::string operator()(const CommandLine& command) const { return fenced(command.words); }
};

}  // namespace

std::string markdown_text(const Document& document) {
  std::string text =
      "# " + line(document.title) + "\n\n" + wrapped("**" + line(document.sentence) + "**");
  for (const Prose& note : document.notes) text += "\n" + wrapped(line(note));
  for (const Section& section : document.sections) {
    text += "\n## " + line(section.title) + "\n";
    for (const Block& block : section.blocks) text += "\n" + std::visit(Writer{}, block);
  }
  return printable_lines(text);
}

}  // namespace tabmelt::report
