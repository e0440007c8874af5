#include "viz/drawing/page.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fcntl.h>
#include <pango/pangocairo.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <memory>
#include <string_view>
#include <system_error>

namespace tabmelt::drawing {

namespace {

struct Release {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
};
using Surface = std::unique_ptr<cairo_surface_t, Release>;
using Cairo = std::unique_ptr<cairo_t, Release>;
using Layout = std::shared_ptr<PangoLayout>;

// Letters are neither hinted nor moved to whole pixels, so that a picture of any size is the same
// picture.
std::shared_ptr<PangoContext> text_context() {
  const std::shared_ptr<PangoContext> context(
      pango_font_map_create_context(pango_cairo_font_map_get_default()), g_object_unref);
  cairo_font_options_t* const options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context.get(), options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context.get(), FALSE);
  return context;
}

Layout layout_of(const std::string& words, const TextStyle& style) {
  // The font is broader and its small letters are taller than most: as much smaller.
  constexpr double em = 0.9;
  static thread_local const std::shared_ptr<PangoContext> context = text_context();
  Layout layout(pango_layout_new(context.get()), g_object_unref);
  const std::unique_ptr<PangoFontDescription, Release> font(pango_font_description_new());
  pango_font_description_set_family_static(font.get(), "DejaVu Sans");
  pango_font_description_set_weight(font.get(),
                                    style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(font.get(), em * style.size * PANGO_SCALE);
  pango_layout_set_font_description(layout.get(), font.get());
  pango_layout_set_text(layout.get(), words.c_str(), static_cast<int>(words.size()));
  if (style.room > 0) {
    pango_layout_set_width(layout.get(), pango_units_from_double(style.room));
    pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
  }
  return layout;
}

// Boxes around the ink and around the room that the lines take, from the layout's upper left
// corner, y downwards.
struct Extents {
  Box ink, lines;
};

Extents extents_of(const Layout& layout) {
  PangoRectangle ink, lines;
  pango_layout_get_extents(layout.get(), &ink, &lines);
  const auto box = [](const PangoRectangle& r) {
    return Box{pango_units_to_double(r.x), pango_units_to_double(r.y),
               pango_units_to_double(r.width), pango_units_to_double(r.height)};
  };
  return {box(ink), box(lines)};
}

void set_colour(cairo_t* cairo, const Colour& colour) {
  cairo_set_source_rgba(cairo, colour.red, colour.green, colour.blue, colour.opacity);
}

void add_path(cairo_t* cairo, const Polyline& points) {
  cairo_new_sub_path(cairo);
  for (const Point& p : points) {
    cairo_line_to(cairo, p.x, p.y);
  }
}

void stroke(cairo_t* cairo, const LineStyle& style) {
  set_colour(cairo, style.colour);
  cairo_set_line_width(cairo, style.width);
  const double dashes[] = {style.dash, style.gap > 0 ? style.gap : style.dash};
  cairo_set_dash(cairo, dashes, style.dash > 0 ? 2 : 0, 0);
  cairo_stroke(cairo);
}

void show(cairo_t* cairo, const Layout& layout, const Colour& colour, Point top_left) {
  set_colour(cairo, colour);
  cairo_save(cairo);
  cairo_translate(cairo, top_left.x, top_left.y);
  cairo_scale(cairo, 1, -1);
  cairo_move_to(cairo, 0, 0);
  if (cairo_surface_get_type(cairo_get_target(cairo)) == CAIRO_SURFACE_TYPE_IMAGE) {
    // Shown as glyphs, letters would move to whole pixels.
    pango_cairo_layout_path(cairo, layout.get());
    cairo_fill(cairo);
  } else {
    pango_cairo_show_layout(cairo, layout.get());
  }
  cairo_restore(cairo);
}

void require(cairo_status_t status, const std::filesystem::path& file) {
  if (status != CAIRO_STATUS_SUCCESS) {
    throw PictureError("cannot write " + file.string() + ": " + cairo_status_to_string(status));
  }
}

}  // namespace

Page::Page(int width, int height, Ground ground) : width_(width), height_(height) {
  if (ground == Ground::paper) {
    rectangle({0, 0, static_cast<double>(width), static_cast<double>(height)}, palette::paper);
  }
}

void Page::add(const Clip& clip, Command command) {
  commands_.push_back([clip, command = std::move(command)](cairo_t* cairo) {
    cairo_save(cairo);
    if (clip) {
      cairo_rectangle(cairo, clip->x, clip->y, clip->width, clip->height);
      cairo_clip(cairo);
    }
    command(cairo);
    cairo_restore(cairo);
  });
}

void Page::rectangle(const Box& box, const Colour& fill) {
  add({}, [box, fill](cairo_t* cairo) {
    set_colour(cairo, fill);
    cairo_rectangle(cairo, box.x, box.y, box.width, box.height);
    cairo_fill(cairo);
  });
}

void Page::frame(const Box& box, const LineStyle& style) {
  add({}, [box, style](cairo_t* cairo) {
    cairo_rectangle(cairo, box.x, box.y, box.width, box.height);
    stroke(cairo, style);
  });
}

void Page::line(const Polyline& points, const LineStyle& style, const Clip& clip) {
  add(clip, [points, style](cairo_t* cairo) {
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    add_path(cairo, points);
    if (points.size() > 2 && points.front() == points.back()) {
      cairo_close_path(cairo);
    }
    stroke(cairo, style);
  });
}

void Page::shape(const std::vector<Polyline>& outlines, const Colour& fill, const Clip& clip) {
  add(clip, [outlines, fill](cairo_t* cairo) {
    for (const Polyline& outline : outlines) {
      add_path(cairo, outline);
      cairo_close_path(cairo);
    }
    set_colour(cairo, fill);
    cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_fill(cairo);
  });
}

void Page::area(const Polyline& lower, const Polyline& upper, const Colour& fill) {
  Polyline outline = lower;
  outline.insert(outline.end(), upper.rbegin(), upper.rend());
  shape({outline}, fill);
}

void Page::disc(Point centre, double radius, const Colour& fill) {
  add({}, [centre, radius, fill](cairo_t* cairo) {
    set_colour(cairo, fill);
    cairo_arc(cairo, centre.x, centre.y, radius, 0, 2 * M_PI);
    cairo_fill(cairo);
  });
}

void Page::text(Point at, const std::string& words, const TextStyle& style) {
  if (words.empty()) {
    return;
  }
  constexpr double capitals = 0.656;  // their height over the size of the type
  const Layout layout = layout_of(words, style);
  const auto [ink, lines] = extents_of(layout);
  const double to_left = style.align == Align::left     ? 0
                         : style.align == Align::centre ? 0.5 * lines.width
                                                        : lines.width;
  const double to_baseline = capitals * style.size * (style.level == Level::top ? 1 : 0.5);
  const Point top_left{
      at.x - to_left,
      at.y - to_baseline + pango_units_to_double(pango_layout_get_baseline(layout.get()))};
  add({}, [layout, top_left, colour = style.colour](cairo_t* cairo) {
    show(cairo, layout, colour, top_left);
  });
  labels_.push_back({words,
                     {top_left.x + ink.x, top_left.y - ink.y - ink.height, ink.width, ink.height},
                     pango_layout_is_ellipsized(layout.get()) != FALSE});
}

double Page::paragraph(Point top_left, const std::string& words, TextStyle style, double width,
                       double height, double smallest) {
  style.room = width;
  for (;; style.size -= 1) {
    const Layout layout = layout_of(words, style);
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_height(layout.get(), pango_units_from_double(height));
    const bool cut = pango_layout_is_ellipsized(layout.get()) != FALSE;
    if (cut && style.size - 1 >= smallest) {
      continue;
    }
    const auto [ink, lines] = extents_of(layout);
    add({}, [layout, top_left, colour = style.colour](cairo_t* cairo) {
      show(cairo, layout, colour, top_left);
    });
    labels_.push_back(
        {words, {top_left.x + ink.x, top_left.y - ink.y - ink.height, ink.width, ink.height}, cut});
    return lines.height;
  }
}

double Page::text_width(const std::string& words, const TextStyle& style) {
  return extents_of(layout_of(words, style)).lines.width;
}

void Page::draw(cairo_t* cairo, double scale) const {
  cairo_scale(cairo, scale, -scale);
  cairo_translate(cairo, 0, -height_);
  for (const Command& command : commands_) {
    command(cairo);
  }
}

int Page::height_at(int pixels) const {
  return static_cast<int>(std::lround(static_cast<double>(height_) * pixels / width_));
}

Raster Page::raster(int pixels) const {
  Raster raster{pixels, height_at(pixels), {}};
  raster.rgba.resize(4 * static_cast<std::size_t>(pixels) *
                     static_cast<std::size_t>(raster.height));
  paint(raster.rgba.data(), pixels);
  return raster;
}

void Page::paint(std::uint8_t* rgba, int pixels) const {
  const int height = height_at(pixels);
  std::fill_n(rgba, 4 * static_cast<std::ptrdiff_t>(pixels) * height, std::uint8_t{0});
  const Surface surface(
      cairo_image_surface_create_for_data(rgba, CAIRO_FORMAT_ARGB32, pixels, height, 4 * pixels));
  draw(Cairo(cairo_create(surface.get())).get(), static_cast<double>(pixels) / width_);
  cairo_surface_finish(surface.get());
  // Cairo stores 0xAARRGGBB with the colours already multiplied by the opacity.
  for (std::ptrdiff_t left = static_cast<std::ptrdiff_t>(pixels) * height; left > 0; --left) {
    std::uint32_t pixel = 0;
    std::memcpy(&pixel, rgba, sizeof pixel);
    const std::uint32_t opacity = pixel >> 24;
    for (const unsigned shift : {16U, 8U, 0U}) {
      const std::uint32_t value = pixel >> shift & 255;
      *rgba++ = static_cast<std::uint8_t>(opacity == 255 ? value
                                          : opacity == 0 ? 0
                                                         : (255 * value + opacity / 2) / opacity);
    }
    *rgba++ = static_cast<std::uint8_t>(opacity);
  }
}

namespace {

cairo_status_t keep(void* bytes, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

// Puts a whole file in place of what has its name. A link of that name is replaced, not followed.
bool replaced(const std::filesystem::path& file, std::string_view bytes) {
  const std::string beside = file.string() + ".tmp";
  ::unlink(beside.c_str());  // of a process that was killed
  const int descriptor =
      ::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
  if (descriptor < 0) return false;
  bool well = true;
  while (well && !bytes.empty()) {
    const ::ssize_t done = ::write(descriptor, bytes.data(), bytes.size());
    if (done < 0 && errno == EINTR) continue;
    well = done > 0;
    if (well) bytes.remove_prefix(static_cast<std::size_t>(done));
  }
  well = ::close(descriptor) == 0 && well && ::rename(beside.c_str(), file.c_str()) == 0;
  if (!well) ::unlink(beside.c_str());
  return well;
}

}  // namespace

void Page::save(const std::filesystem::path& file, int pixels) const {
  const std::string kind = file.extension();
  std::error_code ignored;  // writing will tell
  std::filesystem::create_directories(file.parent_path(), ignored);
  const int height = height_at(pixels);
  const double scale = static_cast<double>(pixels) / width_;
  constexpr double points_per_pixel = 72.0 / 96;
  const bool pdf = kind == ".pdf", svg = kind == ".svg";
  std::string bytes;
  const Surface surface(pdf   ? cairo_pdf_surface_create_for_stream(keep, &bytes,
                                                                    points_per_pixel * pixels,
                                                                    points_per_pixel * height)
                        : svg ? cairo_svg_surface_create_for_stream(keep, &bytes, pixels, height)
                              : cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels, height));
  require(cairo_surface_status(surface.get()), file);
  if (svg) {
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_PX);
  }
  draw(Cairo(cairo_create(surface.get())).get(), pdf ? points_per_pixel * scale : scale);
  if (!pdf && !svg) {
    require(cairo_surface_write_to_png_stream(surface.get(), keep, &bytes), file);
  }
  cairo_surface_finish(surface.get());
  require(cairo_surface_status(surface.get()), file);
  if (!replaced(file, bytes)) require(CAIRO_STATUS_WRITE_ERROR, file);
}

bool font_available() {
  PangoFontFamily** families = nullptr;
  int count = 0;
  pango_font_map_list_families(pango_cairo_font_map_get_default(), &families, &count);
  g_free(families);
  return count > 0;
}

}  // namespace tabmelt::drawing
