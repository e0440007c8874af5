#include "io/report/markdown.h"

#include <algorithm>
#include <cctype>

#include "io/report/markdown_table.h"

namespace tabmelt {
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
    const bool link = words[n] == ']' && next == '(';
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

// As a line, but MarkdownTable itself takes care of lines and columns.
std::string cell(const Prose& text) {
  std::string words;
  for (const Phrase& phrase : text.phrases()) words += marked(phrase.words, phrase.tone);
  return words;
}

// One line inside a fence, which it cannot close.
std::string fenced(std::string words) {
  std::replace_if(
      words.begin(), words.end(), [](char c) { return c == '\n' || c == '\r'; }, ' ');
  return "```\n" + words + "\n```\n";
}

struct Writer {
  std::string operator()(const Prose& text) const { return line(text) + "\n"; }

  std::string operator()(const Table& table) const {
    MarkdownTable out(table.columns());
    for (const std::vector<Prose>& row : table.rows()) {
      std::vector<std::string> cells;
      for (const Prose& text : row) cells.push_back(cell(text));
      out.add_row(std::move(cells));
    }
    return out.text();
  }

  std::string operator()(const Bullets& bullets) const {
    std::string text;
    for (const Prose& item : bullets.items) text += "- " + line(item) + "\n";
    return text;
  }

  std::string operator()(const CommandLine& command) const { return fenced(command.words); }
};

}  // namespace

std::string markdown_text(const Document& document) {
  std::string text = "# " + line(document.title) + "\n\n**" + line(document.sentence) + "**\n";
  for (const Prose& note : document.notes) text += "\n" + line(note) + "\n";
  for (const Section& section : document.sections) {
    text += "\n## " + line(section.title) + "\n";
    for (const Block& block : section.blocks) text += "\n" + std::visit(Writer{}, block);
  }
  return text;
}

}  // namespace tabmelt
