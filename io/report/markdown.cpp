#include "io/report/markdown.h"

#include "io/report/markdown_table.h"
#include "solver/words/printable.h"

namespace tabmelt {
namespace {

std::string marked(const std::string& words, Tone tone) {
  switch (tone) {
    case Tone::strong:
    case Tone::bad:
      return "**" + words + "**";
    case Tone::code:
      return "`" + words + "`";
    case Tone::plain:
    case Tone::good:
      break;
  }
  return words;
}

std::string line(const Prose& text) {
  std::string words;
  for (const Phrase& phrase : text.phrases()) {
    words += marked(table_cell(phrase.words), phrase.tone);
  }
  return words;
}

// As a line, but MarkdownTable itself makes it harmless.
std::string cell(const Prose& text) {
  std::string words;
  for (const Phrase& phrase : text.phrases()) words += marked(phrase.words, phrase.tone);
  return words;
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

  std::string operator()(const CommandLine& command) const {
    return "```\n" + command.words + "\n```\n";
  }
};

}  // namespace

std::string markdown_text(const Document& document) {
  std::string text =
      "# " + table_cell(document.title) + "\n\n**" + table_cell(document.sentence) + "**\n";
  for (const Prose& note : document.notes) text += "\n" + line(note) + "\n";
  for (const Section& section : document.sections) {
    text += "\n## " + section.title + "\n";
    for (const Block& block : section.blocks) text += "\n" + std::visit(Writer{}, block);
  }
  return printable_lines(text);
}

}  // namespace tabmelt
