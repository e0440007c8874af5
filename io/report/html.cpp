#include "io/report/html.h"

#include <fmt/format.h>

#include "io/report/html_style.h"
#include "solver/words/printable.h"

namespace tabmelt::report {
namespace {

std::string marked(const Phrase& phrase) {
  const std::string words = html_escaped(phrase.words);
  switch (phrase.tone) {
    case Tone::strong:
      return "<strong>" + words + "</strong>";
    case Tone::good:
      return "<strong class=\"good\">" + words + "</strong>";
    case Tone::bad:
      return "<strong class=\"bad\">" + words + "</strong>";
    case Tone::code:
      return "<code>" + words + "</code>";
    case Tone::plain:
      break;
  }
  return words;
}

std::string inline_html(const Prose& prose) {
  std::string text;
  for (const Phrase& phrase : prose.phrases()) text += marked(phrase);
  return text;
}

std::string cell_class(const Column& column) {
  std::string names;
  if (column.align == Align::right) names += "number";
  if (column.weight == Weight::detail) names += names.empty() ? "detail" : " detail";
  return names.empty() ? "" : fmt::format(" class=\"{}\"", names);
}

struct Writer {
  std::string operator()(const Prose& prose) const { return "<p>" + inline_html(prose) + "</p>\n"; }

  // Each cell names its column, for screens too narrow for columns.
  std::string operator()(const Table& table) const {
    std::string text = "<table>\n<thead><tr>";
    for (const Column& column : table.columns()) {
      text += fmt::format("<th scope=\"col\"{}>{}</th>", cell_class(column),
                          html_escaped(column.heading));
    }
    text += "</tr></thead>\n<tbody>\n";
    for (const std::vector<Prose>& row : table.rows()) {
      text += "<tr>";
      for (std::size_t n = 0; n < row.size(); ++n) {
        const Column& column = table.columns()[n];
        text += fmt::format("<td{} data-column=\"{}\">{}</td>", cell_class(column),
                            html_escaped(column.heading), inline_html(row[n]));
      }
      text += "</tr>\n";
    }
    return text + "</tbody>\n</table>\n";
  }

  std::string operator()(const Bullets& bullets) const {
    std::string text = "<ul>\n";
    for (const Prose& item : bullets.items) text += "<li>" + inline_html(item) + "</li>\n";
    return text + "</ul>\n";
  }

  std::string operator()(const CommandLine& command) const {
    return "<pre>" + html_escaped(command.words) + "</pre>\n";
  }
};

}  // namespace

std::string html_escaped(const std::string& words) {
  std::string text;
  for (const char c : words) {
    switch (c) {
      case '&':
        text += "&amp;";
        break;
      case '<':
        text += "&lt;";
        break;
      case '>':
        text += "&gt;";
        break;
      case '"':
        text += "&quot;";
        break;
      default:
        text += c;
    }
  }
  return text;
}

std::string html_text(const Document& document, const std::string& pictures) {
  std::string text = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n<header class=\"{}\">\n"
      "<h1>{}</h1>\n<p class=\"outcome\"><strong>{}</strong> {}</p>\n"
      "<p class=\"sentence\">{}</p>\n",
      html_escaped(document.title), html_style(), document.good ? "good" : "bad",
      html_escaped(document.title), document.good ? "Good weld" : "Not a good weld",
      html_escaped(document.outcome), html_escaped(document.sentence));
  for (const Prose& note : document.notes) text += Writer{}(note);
  text += "</header>\n<main>\n" + pictures;
  for (const Section& section : document.sections) {
    text += fmt::format("<section id=\"{}\">\n<h2>{}</h2>\n<div>\n", section.key,
                        html_escaped(section.title));
    for (const Block& block : section.blocks) text += std::visit(Writer{}, block);
    text += "</div>\n</section>\n";
  }
  return printable_lines(text + "</main>\n</body>\n</html>\n");
}

}  // namespace tabmelt::report
