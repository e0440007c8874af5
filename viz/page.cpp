#include "viz/page.h"

#include <vtkAbstractMapper.h>
#include <vtkBrush.h>
#include <vtkCellData.h>
#include <vtkContext2D.h>
#include <vtkContextActor.h>
#include <vtkContextDevice2D.h>
#include <vtkContextItem.h>
#include <vtkContextScene.h>
#include <vtkErrorCode.h>
#include <vtkImageData.h>
#include <vtkImageResize.h>
#include <vtkImageShrink3D.h>
#include <vtkImageSincInterpolator.h>
#include <vtkNew.h>
#include <vtkObjectFactory.h>
#include <vtkPNGWriter.h>
#include <vtkPen.h>
#include <vtkPolyData.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkTextProperty.h>
#include <vtkTextRenderer.h>
#include <vtkUnsignedCharArray.h>
#include <vtkWindowToImageFilter.h>

#include <algorithm>
#include <cmath>
#include <system_error>

#include "viz/display.h"
#include "viz/pictures.h"

namespace tabmelt {

namespace {

constexpr int supersampling = 2;
constexpr int dots_per_inch = 72;  // makes one point of type one pixel

// Replays a page's commands whenever the scene is painted.
class Replay : public vtkContextItem {
 public:
  static Replay* New();
  bool Paint(vtkContext2D* painter) override {
    for (const auto& command : commands) {
      command(*painter, scale);
    }
    return true;
  }
  std::vector<std::function<void(vtkContext2D&, double)>> commands;
  double scale = supersampling;
  vtkTypeMacro(Replay, vtkContextItem)
};
vtkStandardNewMacro(Replay);

void set_pen(vtkContext2D& painter, const LineStyle& style, double scale) {
  vtkPen* const pen = painter.GetPen();
  pen->SetLineType(vtkPen::SOLID_LINE);
  pen->SetColorF(style.colour.red, style.colour.green, style.colour.blue, style.colour.opacity);
  pen->SetWidth(static_cast<float>(style.width * scale));
}

void set_brush(vtkContext2D& painter, const Colour& fill) {
  painter.GetPen()->SetLineType(vtkPen::NO_PEN);
  painter.GetBrush()->SetColorF(fill.red, fill.green, fill.blue, fill.opacity);
}

std::vector<float> scaled(const Polyline& points, double scale) {
  std::vector<float> flat;
  flat.reserve(2 * points.size());
  for (const Point& p : points) {
    flat.push_back(static_cast<float>(p.x * scale));
    flat.push_back(static_cast<float>(p.y * scale));
  }
  return flat;
}

void fill_text_property(vtkTextProperty& property, const TextStyle& style, double scale) {
  property.SetFontFamilyToArial();
  property.SetFontSize(static_cast<int>(std::lround(style.size * scale)));
  property.SetBold(style.bold);
  property.SetColor(style.colour.red, style.colour.green, style.colour.blue);
  property.SetOpacity(style.colour.opacity);
  property.SetOrientation(style.turn);
  property.SetJustification(style.align == Align::left     ? VTK_TEXT_LEFT
                            : style.align == Align::centre ? VTK_TEXT_CENTERED
                                                           : VTK_TEXT_RIGHT);
  property.SetVerticalJustification(style.level == Level::bottom   ? VTK_TEXT_BOTTOM
                                    : style.level == Level::middle ? VTK_TEXT_CENTERED
                                                                   : VTK_TEXT_TOP);
}

void set_clip(vtkContext2D& painter, const Box& box, double scale) {
  int limits[4] = {static_cast<int>(std::lround(box.x * scale)),
                   static_cast<int>(std::lround(box.y * scale)),
                   static_cast<int>(std::lround(box.width * scale)),
                   static_cast<int>(std::lround(box.height * scale))};
  painter.GetDevice()->SetClipping(limits);
  painter.GetDevice()->EnableClipping(true);
}

}  // namespace

std::vector<Polyline> dashes(const Polyline& points, double dash, double gap) {
  std::vector<Polyline> shown;
  bool drawing = true;
  double left = dash;  // of the dash or gap under way
  for (std::size_t k = 1; k < points.size(); ++k) {
    const Point from = points[k - 1], to = points[k];
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    double done = 0;
    while (done < length) {
      const double step = std::min(left, length - done);
      const auto at = [&](double s) {
        return Point{std::lerp(from.x, to.x, s / length), std::lerp(from.y, to.y, s / length)};
      };
      if (drawing) {
        if (left == dash || shown.empty()) {
          shown.push_back({at(done)});
        }
        shown.back().push_back(at(done + step));
      }
      done += step;
      left -= step;
      if (left <= 0) {
        drawing = !drawing;
        left = drawing ? dash : gap;
      }
    }
  }
  return shown;
}

Page::Page(int width, int height, Ground ground) : width_(width), height_(height) {
  if (ground == Ground::paper) {
    rectangle({0, 0, static_cast<double>(width), static_cast<double>(height)}, palette::paper);
  }
}

void Page::rectangle(const Box& box, const Colour& fill) {
  add([box, fill](vtkContext2D& painter, double s) {
    set_brush(painter, fill);
    painter.DrawRect(static_cast<float>(box.x * s), static_cast<float>(box.y * s),
                     static_cast<float>(box.width * s), static_cast<float>(box.height * s));
  });
}

void Page::frame(const Box& box, const LineStyle& style) {
  const double half = 0.5 * style.width;  // corners overlap, so that none is notched
  segments({{box.x - half, box.y},
            {box.right() + half, box.y},
            {box.x - half, box.top()},
            {box.right() + half, box.top()},
            {box.x, box.y},
            {box.x, box.top()},
            {box.right(), box.y},
            {box.right(), box.top()}},
           style);
}

void Page::segments(const Polyline& ends, const LineStyle& style) {
  add([ends, style](vtkContext2D& painter, double s) {
    set_pen(painter, style, s);
    std::vector<float> flat = scaled(ends, s);
    painter.DrawLines(flat.data(), static_cast<int>(ends.size()));
  });
}

void Page::line(const Polyline& points, const LineStyle& style) {
  if (points.size() < 2) {
    return;
  }
  if (style.dash > 0) {
    Polyline ends;
    for (const Polyline& part :
         dashes(points, style.dash, style.gap > 0 ? style.gap : style.dash)) {
      for (std::size_t k = 1; k < part.size(); ++k) {
        ends.push_back(part[k - 1]);
        ends.push_back(part[k]);
      }
    }
    segments(ends, style);
    return;
  }
  add([points, style](vtkContext2D& painter, double s) {
    set_pen(painter, style, s);
    std::vector<float> flat = scaled(points, s);
    painter.DrawPoly(flat.data(), static_cast<int>(points.size()));
  });
}

void Page::line(const Polyline& points, const LineStyle& style, const Box& clip) {
  add([clip](vtkContext2D& painter, double s) { set_clip(painter, clip, s); });
  line(points, style);
  add([](vtkContext2D& painter, double) { painter.GetDevice()->EnableClipping(false); });
}

void Page::area(const Polyline& lower, const Polyline& upper, const Colour& fill) {
  if (lower.size() < 2 || lower.size() != upper.size()) {
    return;
  }
  Polyline strip;
  for (std::size_t k = 0; k < lower.size(); ++k) {
    strip.push_back(lower[k]);
    strip.push_back(upper[k]);
  }
  add([strip, fill](vtkContext2D& painter, double s) {
    set_brush(painter, fill);
    std::vector<float> flat = scaled(strip, s);
    painter.DrawQuadStrip(flat.data(), static_cast<int>(strip.size()));
  });
}

void Page::convex_shape(const Polyline& corners, const Colour& fill) {
  add([corners, fill](vtkContext2D& painter, double s) {
    set_brush(painter, fill);
    std::vector<float> flat = scaled(corners, s);
    painter.DrawPolygon(flat.data(), static_cast<int>(corners.size()));
  });
}

void Page::disc(Point centre, double radius, const Colour& fill) {
  Polyline rim;
  constexpr int corners = 40;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * M_PI * k / corners;
    rim.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
  }
  convex_shape(rim, fill);
}

void Page::text(Point at, const std::string& words, const TextStyle& style) {
  if (words.empty()) {
    return;
  }
  add([at, words, style](vtkContext2D& painter, double s) {
    vtkNew<vtkTextProperty> property;
    fill_text_property(*property, style, s);
    painter.ApplyTextProp(property);
    painter.DrawString(static_cast<float>(std::round(at.x * s)),
                       static_cast<float>(std::round(at.y * s)), words.c_str());
  });
}

void Page::mesh(vtkSmartPointer<vtkPolyData> cells, const Box& clip) {
  if (!cells || cells->GetNumberOfCells() == 0) {
    return;
  }
  add([cells, clip](vtkContext2D& painter, double s) {
    set_clip(painter, clip, s);
    set_brush(painter, palette::white);
    auto* const colours =
        vtkUnsignedCharArray::SafeDownCast(cells->GetCellData()->GetArray("colour"));
    float origin[2] = {0, 0};
    painter.GetDevice()->DrawPolyData(origin, static_cast<float>(s), cells, colours,
                                      VTK_SCALAR_MODE_USE_CELL_DATA);
    painter.GetDevice()->EnableClipping(false);
  });
}

double Page::text_width(const std::string& words, const TextStyle& style) {
  vtkNew<vtkTextProperty> property;
  fill_text_property(*property, style, supersampling);
  int box[4] = {0, 0, 0, 0};
  vtkTextRenderer::GetInstance()->GetBoundingBox(property, words, box, dots_per_inch);
  return static_cast<double>(box[1] - box[0] + 1) / supersampling;
}

void Page::show_in(vtkContextActor& actor, double scale) const {
  vtkContextScene* const scene = actor.GetScene();
  if (scene->GetNumberOfItems() == 0) {
    scene->AddItem(vtkNew<Replay>());
  }
  auto* const replay = static_cast<Replay*>(scene->GetItem(0));
  replay->commands = commands_;
  replay->scale = scale;
  scene->SetDirty(true);
}

void Page::save(const std::filesystem::path& png, int pixels) const {
  require_display();
  // Small pictures are averaged down from the usual size, because the drawing of small letters is
  // not in proportion; large ones are drawn large.
  const double scale =
      supersampling * std::max(1.0, static_cast<double>(pixels) / static_cast<double>(width_));
  vtkNew<vtkRenderWindow> window;
  window->SetOffScreenRendering(1);
  window->SetDPI(dots_per_inch);
  window->SetMultiSamples(0);  // supersampling smooths as well, at a quarter of the time
  window->SetSize(static_cast<int>(std::lround(width_ * scale)),
                  static_cast<int>(std::lround(height_ * scale)));
  vtkNew<vtkRenderer> renderer;
  renderer->SetBackground(palette::paper.red, palette::paper.green, palette::paper.blue);
  window->AddRenderer(renderer);
  vtkNew<vtkContextActor> actor;
  show_in(*actor, scale);
  renderer->AddActor(actor);
  window->Render();

  write_window(*window, png, pixels);
}

void write_window(vtkRenderWindow& window, const std::filesystem::path& png, int width) {
  vtkNew<vtkWindowToImageFilter> grab;
  grab->SetInput(&window);
  grab->SetInputBufferTypeToRGB();
  grab->ReadFrontBufferOff();
  grab->Update();
  const int* const full = grab->GetOutput()->GetDimensions();
  const int height = static_cast<int>(std::lround(static_cast<double>(full[1]) * width / full[0]));
  vtkNew<vtkImageShrink3D> shrink;
  shrink->SetInputConnection(grab->GetOutputPort());
  shrink->SetShrinkFactors(std::max(1, full[0] / width), std::max(1, full[0] / width), 1);
  shrink->AveragingOn();
  vtkNew<vtkImageSincInterpolator> average;
  average->AntialiasingOn();
  vtkNew<vtkImageResize> resize;
  resize->SetInputConnection(grab->GetOutputPort());
  resize->SetOutputDimensions(width, height, 1);
  resize->SetInterpolator(average);
  const bool whole_steps = full[0] % width == 0 && full[1] % height == 0;
  vtkNew<vtkPNGWriter> writer;
  writer->SetInputConnection(whole_steps ? shrink->GetOutputPort() : resize->GetOutputPort());
  writer->SetFileName(png.c_str());
  // VTK would report an unwritable path on the terminal only, so the path is tried first.
  std::error_code trouble;
  const auto parent = png.has_parent_path() ? png.parent_path() : std::filesystem::path(".");
  if (!std::filesystem::is_directory(parent, trouble)) {
    throw PictureError("cannot write " + png.string() + ": no folder " + parent.string());
  }
  writer->Write();
  if (writer->GetErrorCode() != vtkErrorCode::NoError) {
    throw PictureError("cannot write " + png.string() + ": " +
                       vtkErrorCode::GetStringFromErrorCode(writer->GetErrorCode()));
  }
}

}  // namespace tabmelt
