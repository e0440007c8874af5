#include "io/report/html_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <optional>

#include "io/files/whole_file.h"
#include "io/report/html.h"

namespace tabmelt::report {
namespace {

namespace fs = std::filesystem;

// The place for pictures inside a page.
constexpr const char* place_begins = "<!-- pictures -->\n";
constexpr const char* place_ends = "<!-- end of pictures -->\n";

std::optional<std::string> content(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) return std::nullopt;
  std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  if (in.bad()) return std::nullopt;
  return bytes;
}

// What a picture shows, by the name of its file; in the order of the page.
struct Caption {
  std::string name, words;
  bool printed = true;  // false: left out on paper
};

const std::vector<Caption>& captions() {
  static const std::vector<Caption> known{
      {"section", "Temperature in both halves of the section, at the moment it names."},
      {"moments", "Moments of the weld, with the pulse below them."},
      {"peak", "The hottest every place became over the whole run.", false},
      {"current", "Electric potential, with the lines along which the current flows.", false},
      {"curves", "Current, voltages, resistances and force; temperatures against their limits."},
      {"energy", "Where the energy went, from the source to its sinks."},
  };
  return known;
}

Caption caption(const std::string& name) {
  for (const Caption& one : captions())
    if (one.name == name) return one;
  return {name, name, false};
}

// The picture is a link to itself, which shows it in full size over the page: no other file is
// needed, and the bytes stand here once.
std::string figure(const fs::path& file, const std::string& png) {
  const Caption shown = caption(file.stem().string());
  const std::string words = html_escaped(shown.words);
  const std::string name = html_escaped(shown.name);
  return fmt::format(
      "<figure id=\"picture-{0}\"{1}><a class=\"full\" href=\"#picture-{0}\" "
      "title=\"Full size\"><img alt=\"{2}\" src=\"data:image/png;base64,{3}\"></a>"
      "<figcaption>{2} <a class=\"back\" href=\"#pictures\">Back to the report</a></figcaption>"
      "</figure>\n",
      name, shown.printed ? "" : " class=\"unprinted\"", words, base64(png));
}

constexpr const char* figure_begins = "<figure ";
constexpr const char* figure_ends = "</figure>\n";

std::vector<std::string> figures_in(const std::string& html) {
  std::vector<std::string> figures;
  for (std::size_t from = html.find(figure_begins); from != std::string::npos;
       from = html.find(figure_begins, from + 1)) {
    const std::size_t end = html.find(figure_ends, from);
    if (end == std::string::npos) break;
    figures.push_back(html.substr(from, end - from + std::string(figure_ends).size()));
  }
  return figures;
}

// Of two figures, whether the first belongs further up on the page.
bool stands_before(const std::string& a, const std::string& b) {
  const auto rank = [](const std::string& figure) {
    return std::find_if(captions().begin(), captions().end(), [&](const Caption& one) {
      return figure.find(fmt::format("id=\"picture-{}\"", one.name)) < figure.find('>');
    });
  };
  return rank(a) < rank(b);
}

std::string place(const std::string& inside) {
  return std::string(place_begins) + "<section id=\"pictures\">\n<h2>Pictures</h2>\n" + inside +
         "</section>\n" + place_ends;
}

}  // namespace

std::string html_report(const Document& document) {
  return html_text(document,
                   place("<p>None were drawn. <code>tabmelt picture</code> with the folder of "
                         "this result draws them and puts them here.</p>\n"));
}

std::string with_pictures(const std::string& page, const std::vector<fs::path>& files) {
  const std::size_t from = page.find(place_begins);
  const std::size_t end = page.find(place_ends, from == std::string::npos ? 0 : from);
  if (from == std::string::npos || end == std::string::npos) return page;
  std::vector<std::string> figures = figures_in(page.substr(from, end - from));
  bool changed = false;
  for (const fs::path& file : files) {
    if (file.extension() != ".png") continue;
    const auto png = content(file);
    if (!png) continue;
    const std::string drawn = figure(file, *png);
    const std::string name = drawn.substr(0, drawn.find('>'));
    const auto same = std::find_if(figures.begin(), figures.end(), [&](const std::string& other) {
      return other.substr(0, other.find('>')) == name;
    });
    if (same != figures.end()) {
      *same = drawn;
    } else {
      figures.push_back(drawn);
    }
    changed = true;
  }
  if (!changed) return page;
  // Added one by one they still stand in the order of a whole set.
  std::stable_sort(figures.begin(), figures.end(), stands_before);
  std::string all;
  for (const std::string& each : figures) all += each;
  return page.substr(0, from) + place("<div class=\"pictures\">\n" + all + "</div>\n") +
         page.substr(end + std::string(place_ends).size());
}

std::string failure_to_put_pictures(const fs::path& page, const std::vector<fs::path>& files) {
  const auto before = content(page);
  if (!before) return {};
  const std::string after = with_pictures(*before, files);
  if (after == *before) return {};
  return failure_to_replace(page, after).value_or("");
}

std::string base64(const std::string& bytes) {
  constexpr const char* letters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t n = 0; n < bytes.size(); n += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      three = three << 8 | (n + k < bytes.size() ? static_cast<unsigned char>(bytes[n + k]) : 0U);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      text += n + k <= bytes.size() ? letters[three >> (18 - 6 * k) & 63U] : '=';
    }
  }
  return text;
}

}  // namespace tabmelt::report
