// The window itself: draws the state, and turns events of the interactor into actions. Tests drive
// it through the same events as a person.
#pragma once

#include <vtkCallbackCommand.h>
#include <vtkNew.h>
#include <vtkRenderWindow.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "viz/window/controls.h"
#include "viz/window/page_overlay.h"
#include "viz/window/solid_section.h"

namespace tabmelt::window {

class Viewer {
 public:
  // One run, or two side by side on a common scale and clock. Throws PictureError if there is no
  // display or a run holds no frames.
  explicit Viewer(std::vector<StoredRun> runs, const std::optional<TemperatureRange>& = {},
                  int width = 1280, int height = 800);
  ~Viewer();
  Viewer(const Viewer&) = delete;
  Viewer& operator=(const Viewer&) = delete;

  // Until the window is closed.
  void run();
  void act(Action);
  void show_moment(std::size_t moment);
  // All but what is turned to 3-D.
  Page page();
  // What is seen, as PNG. Throws PictureError if it cannot be written.
  void save(const std::filesystem::path& png);

  const ViewState& state() const { return state_; }
  const std::vector<double>& times() const { return times_; }
  const Scale& scale();
  vtkRenderWindowInteractor* interactor() const { return interactor_; }
  vtkRenderWindow* window() const { return window_; }
  MomentLayout layout() const;
  Buttons buttons() const { return Buttons(shown_width_); }
  // Where places of a run are drawn in the flat view, in pixels of the window.
  Sight sight(std::size_t run) const;

 private:
  void watch();
  bool pressed(Point);  // true if it was the window's own business
  void dragged_to(Point);
  void zoom(double factor, Point at);
  void draw();  // the state as it now is
  std::optional<std::size_t> panel_at(Point) const;
  void look();
  bool answered(unsigned long event);  // true if VTK's style must not see the event
  std::size_t moment_at_share(double share) const;

  std::vector<StoredRun> runs_;
  ShownRuns shown_;
  std::vector<std::unique_ptr<SolidSection>> solids_;
  std::vector<double> times_;  // [s] of all runs, in order
  ViewState state_;
  std::map<Field, Scale> scales_;
  std::optional<Sight> sight_;  // in the first panel; set by look()
  enum class Drag { none, slider, curve, profile, place, sight };
  Drag drag_ = Drag::none;
  Point drag_from_;  // [pixels]; of the sight: where the mouse was last
  std::size_t drag_panel_ = 0;
  int shown_width_ = 0, shown_height_ = 0;
  vtkSmartPointer<vtkRenderWindow> window_;
  vtkSmartPointer<vtkRenderWindowInteractor> interactor_;
  vtkNew<vtkRenderer> background_;
  PageOverlay overlay_;
  vtkNew<vtkCallbackCommand> answer_;
};

}  // namespace tabmelt::window
