// The window itself: draws the state, and turns events of the interactor into actions. Tests drive
// it through the same events as a person.
#pragma once

#include <vtkCallbackCommand.h>
#include <vtkContextActor.h>
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

#include "viz/view_controls.h"
#include "viz/view_panel.h"

namespace tabmelt {

class Viewer {
 public:
  // One run, or two side by side on a common scale and clock. Throws PictureError if there is no
  // display or a run holds no frames.
  // For pictures it is not shown on the screen, and buttons are left out.
  enum class Use { by_hand, pictures };
  explicit Viewer(std::vector<StoredRun> runs, Use use = Use::by_hand, int width = 1280,
                  int height = 800);
  ~Viewer();
  Viewer(const Viewer&) = delete;
  Viewer& operator=(const Viewer&) = delete;

  // Until the window is closed.
  void run();
  void act(Action);
  void show_moment(std::size_t moment);
  // What is seen, as PNG. Throws PictureError if it cannot be written.
  void save(const std::filesystem::path& png);

  const ViewState& state() const { return state_; }
  const std::vector<double>& times() const { return times_; }
  const Scale& scale();
  vtkRenderWindowInteractor* interactor() const { return interactor_; }
  vtkRenderWindow* window() const { return window_; }
  ViewLayout layout() const;
  // Pixel of the window at which a place [mm] of a run is drawn in the flat view.
  Point pixel_of(std::size_t run, Point mm) const;

 private:
  void watch();
  bool pressed(Point);  // true if it was the window's own business
  void dragged_to(Point);
  void zoom(double factor, Point at);
  void draw();  // words and sections as the state now is
  std::optional<std::size_t> panel_at(Point) const;
  void look();
  void refresh();
  bool answered(unsigned long event);  // true if VTK's style must not see the event
  std::size_t moment_at_share(double share) const;
  std::size_t moment_at_time(double time) const;
  std::size_t frame_of_run(std::size_t run) const;

  std::vector<StoredRun> runs_;
  std::vector<std::unique_ptr<ViewPanel>> panels_;
  std::vector<double> times_;  // [s] of all runs, in order
  ViewState state_;
  std::map<Field, Scale> scales_;
  enum class Drag { none, slider, curve, profile, place };
  Drag drag_ = Drag::none;
  Point drag_from_;  // [pixels]
  std::size_t drag_panel_ = 0;
  int shown_width_ = 0, shown_height_ = 0;
  vtkSmartPointer<vtkRenderWindow> window_;
  vtkSmartPointer<vtkRenderWindowInteractor> interactor_;
  vtkNew<vtkRenderer> background_, overlay_;
  vtkNew<vtkContextActor> lasting_words_, passing_words_;
  std::optional<ViewState> lasting_state_;  // of the words that stay
  int still_width_ = 0, still_height_ = 0;
  vtkNew<vtkCallbackCommand> answer_;
};

}  // namespace tabmelt
