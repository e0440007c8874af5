// One picture in the making: shapes and text in page units (pixels of a PNG of usual size, origin
// at the lower left), drawn in the order they were added. Cairo draws them and Pango sets the
// words, into a PNG, SVG or PDF file or into memory; neither asks for a screen.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "viz/drawing/colour.h"

struct _cairo;

namespace tabmelt::drawing {

class PictureError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct Point {
  double x = 0, y = 0;
  bool operator==(const Point&) const = default;
};
using Polyline = std::vector<Point>;

struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double top() const { return y + height; }
  Point centre() const { return {x + 0.5 * width, y + 0.5 * height}; }
  bool contains(Point at, double margin = 0) const {
    return at.x >= x - margin && at.x <= right() + margin && at.y >= y - margin &&
           at.y <= top() + margin;
  }
};

enum class Align { left, centre, right };
enum class Level { middle, top };

struct TextStyle {
  double size = 16;
  Colour colour = palette::ink;
  bool bold = false;
  Align align = Align::left;
  Level level = Level::middle;  // of the capitals, what the height of the place means
  double room = 0;              // words wider than this end in an ellipsis; 0: never
};

struct LineStyle {
  Colour colour = palette::ink;
  double width = 1.5;
  double dash = 0;  // length of dashes; 0: solid
  double gap = 0;   // between dashes; 0: as long as a dash
};

// Words as they stand on a page.
struct Label {
  std::string words;
  Box box;           // around their ink
  bool cut = false;  // they end in an ellipsis
};

// A page as pixels: rows from above, red, green, blue and opacity of each.
struct Raster {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;
};

class Page {
 public:
  enum class Ground { paper, clear };
  Page(int width, int height, Ground ground = Ground::paper);

  double width() const { return width_; }
  double height() const { return height_; }

  // Of what has a clip, only the part inside shows.
  using Clip = std::optional<Box>;
  void rectangle(const Box&, const Colour& fill);
  void frame(const Box&, const LineStyle&);
  void line(const Polyline&, const LineStyle&, const Clip& clip = {});
  // Inside an odd number of the outlines, each closed by a line from its last point to its first.
  void shape(const std::vector<Polyline>& outlines, const Colour& fill, const Clip& clip = {});
  // Between two polylines.
  void area(const Polyline& lower, const Polyline& upper, const Colour& fill);
  void disc(Point centre, double radius, const Colour& fill);
  void text(Point at, const std::string&, const TextStyle& = {});
  // Words broken into lines in the largest type, from that of the style down to `smallest`, in
  // which they fill no more than the height; cut only if even the smallest is too large. Returns
  // the height that they fill.
  double paragraph(Point top_left, const std::string&, TextStyle, double width, double height,
                   double smallest);
  static double text_width(const std::string&, const TextStyle&);

  const std::vector<Label>& labels() const { return labels_; }

  // `pixels` wide, the height in proportion.
  Raster raster(int pixels) const;
  // The same into memory that is there: 4 * pixels * height bytes.
  void paint(std::uint8_t* rgba, int pixels) const;
  // The same as a file of the kind that its name ends in: .png, .svg or .pdf, where a pixel is
  // 1/96 inch (CSS Values and Units 3, 5.2). A folder that is missing is made. Throws PictureError
  // if the file cannot be written.
  void save(const std::filesystem::path&, int pixels) const;

 private:
  using Command = std::function<void(_cairo*)>;
  void add(const Clip&, Command);
  void draw(_cairo*, double scale) const;
  int height_at(int pixels) const;

  int width_, height_;
  std::vector<Command> commands_;
  std::vector<Label> labels_;
};

// Whether there is one to set words in.
bool font_available();

}  // namespace tabmelt::drawing
