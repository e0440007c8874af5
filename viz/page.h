// One picture in the making: shapes and text in page units (pixels of a PNG of usual size, origin
// at the lower left), drawn in the order they were added. Drawn at twice the size and averaged
// down, so that lines and letters come out smooth.
#pragma once

#include <vtkSmartPointer.h>

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "viz/palette.h"

class vtkContext2D;
class vtkContextActor;
class vtkPolyData;
class vtkRenderWindow;

namespace tabmelt {

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
};

enum class Align { left, centre, right };
enum class Level { bottom, middle, top };

struct TextStyle {
  double size = 16;
  Colour colour = palette::ink;
  bool bold = false;
  Align align = Align::left;
  Level level = Level::middle;
  double turn = 0;  // [degrees] anticlockwise
};

struct LineStyle {
  Colour colour = palette::ink;
  double width = 1.5;
  double dash = 0;  // length of dashes; 0: solid
  double gap = 0;   // between dashes; 0: as long as a dash
};

class Page {
 public:
  enum class Ground { paper, clear };
  Page(int width, int height, Ground ground = Ground::paper);

  double width() const { return width_; }
  double height() const { return height_; }

  void rectangle(const Box&, const Colour& fill);
  void frame(const Box&, const LineStyle&);
  void line(const Polyline&, const LineStyle&);
  // Only the part inside `clip` shows.
  void line(const Polyline&, const LineStyle&, const Box& clip);
  // Area between two polylines of equal length.
  void area(const Polyline& lower, const Polyline& upper, const Colour& fill);
  void convex_shape(const Polyline& corners, const Colour& fill);
  void disc(Point centre, double radius, const Colour& fill);
  void text(Point at, const std::string&, const TextStyle& = {});
  // Cells of a mesh in page units, one colour each (an RGBA array named "colour" in its cell data).
  void mesh(vtkSmartPointer<vtkPolyData>, const Box& clip);

  static double text_width(const std::string&, const TextStyle&);

  // Shows what is on the page now in a window, in place of what the actor showed before; `scale`
  // pixels are one page unit.
  void show_in(vtkContextActor&, double scale) const;

  // `pixels` wide, the height in proportion. Throws PictureError if there is no display or the file
  // cannot be written.
  void save(const std::filesystem::path& png, int pixels) const;

 private:
  using Command = std::function<void(vtkContext2D&, double scale)>;
  // Lines between ends 0 and 1, 2 and 3, ... in one stroke: each stroke costs a window about as
  // much as a word.
  void segments(const Polyline& ends, const LineStyle&);
  void add(Command command) { commands_.push_back(std::move(command)); }

  int width_, height_;
  std::vector<Command> commands_;
};

// What a window shows, as PNG, averaged down to `width` pixels if it is wider. Throws PictureError
// if the file cannot be written.
void write_window(vtkRenderWindow&, const std::filesystem::path& png, int width);

// The parts of a polyline that show when it is drawn dashed.
std::vector<Polyline> dashes(const Polyline&, double dash, double gap);

}  // namespace tabmelt
