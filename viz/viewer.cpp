#include "viz/viewer.h"

#include <vtkCallbackCommand.h>
#include <vtkCamera.h>
#include <vtkContextActor.h>
#include <vtkInteractorStyleTrackballCamera.h>
#include <vtkRenderWindow.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cmath>

#include "viz/display.h"
#include "viz/pictures.h"
#include "viz/stored_values.h"
#include "viz/view_words.h"

namespace tabmelt {

namespace {

constexpr unsigned long frame_milliseconds = 33;

std::vector<double> all_times(const std::vector<StoredRun>& runs) {
  std::vector<double> times;
  for (const StoredRun& run : runs) {
    times.insert(times.end(), run.frame_times.begin(), run.frame_times.end());
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

// The next name that is free, so that no picture is lost.
std::filesystem::path free_name() {
  for (int n = 1;; ++n) {
    const std::filesystem::path name = "view-" + std::to_string(n) + ".png";
    if (!std::filesystem::exists(name)) {
      return name;
    }
  }
}

}  // namespace

Viewer::Viewer(std::vector<StoredRun> runs, Use use, int width, int height)
    : runs_(std::move(runs)) {
  require_display();
  times_ = all_times(runs_);
  if (times_.empty()) {
    throw PictureError("the result holds no frames to look at");
  }
  window_ = vtkSmartPointer<vtkRenderWindow>::New();
  if (use == Use::pictures) {
    window_->SetOffScreenRendering(1);
    state_.buttons = false;
  }
  window_->SetSize(width, height);
  window_->SetDPI(72);
  window_->SetMultiSamples(0);
  window_->SetNumberOfLayers(3);
  window_->SetWindowName(title_of(runs_.front()).c_str());
  // From behind: paper, sections, words.
  background_->SetBackground(palette::paper.red, palette::paper.green, palette::paper.blue);
  background_->InteractiveOff();
  window_->AddRenderer(background_);
  for (const StoredRun& run : runs_) {
    panels_.push_back(std::make_unique<ViewPanel>(run));
    panels_.back()->renderer()->SetLayer(1);
    panels_.back()->renderer()->SetPreserveColorBuffer(0);
    window_->AddRenderer(panels_.back()->renderer());
    panels_.back()->renderer()->SetActiveCamera(panels_.front()->renderer()->GetActiveCamera());
  }
  overlay_->SetLayer(2);
  overlay_->InteractiveOff();
  overlay_->AddActor(lasting_words_);
  overlay_->AddActor(passing_words_);
  window_->AddRenderer(overlay_);
  interactor_ = vtkSmartPointer<vtkRenderWindowInteractor>::New();
  interactor_->SetRenderWindow(window_);
  interactor_->SetInteractorStyle(vtkNew<vtkInteractorStyleTrackballCamera>());
  state_.level = celsius(scalar_of(runs_.front(), "strip_solidus").value_or(1728));
  double best = times_.back();
  for (const char* const name : {"faying_temperature", "peak_temperature"}) {
    if (const auto peak = peak_of(runs_.front(), name)) {
      best = peak->time;
      break;
    }
  }
  const double shown = runs_.front().frame_times[nearest_frame(runs_.front(), best)];
  state_.moment = static_cast<std::size_t>(std::lower_bound(times_.begin(), times_.end(), shown) -
                                           times_.begin());
  if (use == Use::by_hand) {
    interactor_->Initialize();
  }
  watch();
  look();
  refresh();
  window_->Render();
}

Viewer::~Viewer() { interactor_->RemoveAllObservers(); }

void Viewer::run() {
  interactor_->CreateRepeatingTimer(frame_milliseconds);
  interactor_->Start();
}

ViewLayout Viewer::layout() const {
  const int* const size = window_->GetSize();
  return {static_cast<double>(size[0]), static_cast<double>(size[1]), runs_.size(),
          state_.line.has_value()};
}

const Scale& Viewer::scale() {
  const auto known = scales_.find(state_.field);
  if (known != scales_.end()) {
    return known->second;
  }
  double coldest = 1e30, largest = 0;
  for (const auto& panel : panels_) {
    coldest = std::min(coldest, celsius(ambient_of(panel->run())));
    largest = std::max(largest, largest_shown(*panel, state_.field));
  }
  return scales_[state_.field] = scale_for(state_.field, coldest, largest);
}

std::size_t Viewer::frame_of_run(std::size_t run) const {
  return nearest_frame(runs_[run], times_[state_.moment]);
}

// Our answer comes before that of VTK's own interactor style, which never sees keys: its
// shortcuts would do what the help does not say.
void Viewer::watch() {
  answer_->SetClientData(this);
  answer_->SetCallback([](vtkObject*, unsigned long event, void* viewer, void*) {
    auto* const self = static_cast<Viewer*>(viewer);
    self->answer_->SetAbortFlag(self->answered(event));
  });
  for (const unsigned long event :
       {vtkCommand::KeyPressEvent, vtkCommand::CharEvent, vtkCommand::LeftButtonPressEvent,
        vtkCommand::LeftButtonReleaseEvent, vtkCommand::MouseMoveEvent,
        vtkCommand::MouseWheelForwardEvent, vtkCommand::MouseWheelBackwardEvent,
        vtkCommand::TimerEvent, vtkCommand::ConfigureEvent, vtkCommand::ExposeEvent}) {
    interactor_->AddObserver(event, answer_, 10);
  }
  // VTK's style shifts and turns by itself; the words that point at places follow.
  interactor_->GetInteractorStyle()->AddObserver(vtkCommand::InteractionEvent, answer_);
}

bool Viewer::answered(unsigned long event) {
  const int* const pixel = interactor_->GetEventPosition();
  const Point at{static_cast<double>(pixel[0]), static_cast<double>(pixel[1])};
  switch (event) {
    case vtkCommand::KeyPressEvent: {
      const char* const key = interactor_->GetKeySym();
      if (const auto action = action_of_key(key == nullptr ? "" : key)) {
        act(*action);
      }
      return true;
    }
    case vtkCommand::CharEvent:
      return true;
    case vtkCommand::LeftButtonPressEvent:
      return pressed(at);
    case vtkCommand::LeftButtonReleaseEvent: {
      const bool ours = drag_ != Drag::none || !state_.solid;
      drag_ = Drag::none;
      return ours;
    }
    case vtkCommand::MouseMoveEvent:
      dragged_to(at);
      return drag_ != Drag::none;
    case vtkCommand::MouseWheelForwardEvent:
      zoom(1.15, at);
      return true;
    case vtkCommand::MouseWheelBackwardEvent:
      zoom(1 / 1.15, at);
      return true;
    case vtkCommand::InteractionEvent:
      draw();
      return false;
    case vtkCommand::TimerEvent:
      if (state_.playing) {
        show_moment(state_.moment + 1 < times_.size() ? state_.moment + 1 : 0);
      }
      return false;
    default: {
      const int* const size = window_->GetSize();
      if (size[0] != shown_width_ || size[1] != shown_height_) {
        look();
        draw();
      }
      return false;
    }
  }
}

std::size_t Viewer::moment_at_share(double share) const {
  return static_cast<std::size_t>(std::lround(share * static_cast<double>(times_.size() - 1)));
}

std::size_t Viewer::moment_at_time(double time) const {
  const auto after = std::lower_bound(times_.begin(), times_.end(), time);
  const auto n = static_cast<std::size_t>(after - times_.begin());
  const bool before_is_nearer =
      after == times_.end() || (n > 0 && time - times_[n - 1] < *after - time);
  return before_is_nearer ? n - 1 : n;
}

std::optional<std::size_t> Viewer::panel_at(Point at) const {
  const ViewLayout places = layout();
  for (std::size_t n = 0; n < panels_.size(); ++n) {
    if (share_across(places.panels[n], at)) {
      return n;
    }
  }
  return std::nullopt;
}

bool Viewer::pressed(Point at) {
  const ViewLayout places = layout();
  state_.message.clear();
  if (const auto action = button_at(places, at)) {
    act(*action);
    return true;
  }
  if (slider_share(places, at)) {
    drag_ = Drag::slider;
  } else if (state_.probe && share_across(places.curve, at)) {
    drag_ = Drag::curve;
  } else if (state_.line && share_across(places.profile, at)) {
    drag_ = Drag::profile;
  } else if (const auto panel = panel_at(at); panel && !state_.solid) {
    drag_ = Drag::place;
    drag_panel_ = *panel;
    drag_from_ = at;
    const Point place = panels_[*panel]->place_at(at);
    const bool second_end = interactor_->GetShiftKey() != 0 && state_.probe;
    if (second_end) {
      state_.line = ProbeLine{state_.line ? state_.line->from : *state_.probe, place};
      state_.probe = state_.line->at(0.5);
    } else if (cell_at(runs_[*panel], place) && (place.x >= 0 || state_.mirror)) {
      state_.line.reset();
      state_.probe = place;
    }
    draw();
    return true;
  }
  dragged_to(at);
  return drag_ != Drag::none || !state_.solid;
}

void Viewer::dragged_to(Point at) {
  const ViewLayout places = layout();
  const auto share = [at](const Box& box) {
    return std::clamp((at.x - box.x) / box.width, 0.0, 1.0);
  };
  switch (drag_) {
    case Drag::none:
      return;
    case Drag::slider:
      state_.playing = false;
      show_moment(moment_at_share(share(places.slider)));
      return;
    case Drag::curve:
      state_.playing = false;
      show_moment(moment_at_time(curve_axis(runs_.front(), times_).at(share(places.curve))));
      return;
    case Drag::profile:
      state_.probe = state_.line->at(share(places.profile));
      break;
    case Drag::place: {
      // A hand that trembles while it clicks draws no line.
      constexpr double tremble = 6;
      if (!state_.line && std::hypot(at.x - drag_from_.x, at.y - drag_from_.y) < tremble) {
        return;
      }
      const ViewPanel& panel = *panels_[drag_panel_];
      state_.line = ProbeLine{panel.place_at(drag_from_), panel.place_at(at)};
      state_.probe = state_.line->at(0.5);
      break;
    }
  }
  draw();
}

// Keeps what lies under the mouse where it is.
void Viewer::zoom(double factor, Point at) {
  vtkCamera* const camera = panels_.front()->renderer()->GetActiveCamera();
  const auto panel = panel_at(at);
  if (!panel) {
    return;
  }
  if (state_.solid) {
    camera->SetParallelScale(camera->GetParallelScale() / factor);
  } else {
    const Point before = panels_[*panel]->place_at(at);
    camera->SetParallelScale(camera->GetParallelScale() / factor);
    const Point after = panels_[*panel]->place_at(at);
    double focus[3], eye[3];
    camera->GetFocalPoint(focus);
    camera->GetPosition(eye);
    camera->SetFocalPoint(focus[0] + before.x - after.x, focus[1] + before.y - after.y, focus[2]);
    camera->SetPosition(eye[0] + before.x - after.x, eye[1] + before.y - after.y, eye[2]);
  }
  draw();
}

void Viewer::draw() {
  refresh();
  window_->Render();
}

void Viewer::show_moment(std::size_t moment) {
  state_.moment = std::min(moment, times_.size() - 1);
  draw();
}

void Viewer::act(Action action) {
  const auto step = [this](int by) {
    state_.playing = false;
    const auto last = static_cast<long>(times_.size()) - 1;
    state_.moment =
        static_cast<std::size_t>(std::clamp(static_cast<long>(state_.moment) + by, 0L, last));
  };
  state_.message.clear();
  switch (action) {
    case Action::play:
      state_.playing = !state_.playing;
      break;
    case Action::back:
      step(-1);
      break;
    case Action::forward:
      step(1);
      break;
    case Action::first:
      state_.moment = 0;
      break;
    case Action::last:
      state_.moment = times_.size() - 1;
      break;
    case Action::temperature:
      state_.field = Field::temperature;
      break;
    case Action::liquid:
      state_.field = Field::liquid_fraction;
      break;
    case Action::potential:
      state_.field = Field::potential;
      break;
    case Action::current:
      state_.field = Field::current_density;
      break;
    case Action::mirror:
      state_.mirror = !state_.mirror;
      break;
    case Action::solid:
      state_.solid = !state_.solid;
      break;
    case Action::isotherm:
      state_.isotherm = !state_.isotherm;
      break;
    case Action::hotter:
      state_.level += 50;
      break;
    case Action::colder:
      state_.level -= 50;
      break;
    case Action::joint:
      state_.joint = !state_.joint;
      break;
    case Action::help:
      state_.help = !state_.help;
      break;
    case Action::forget:
      state_.probe.reset();
      state_.line.reset();
      break;
    case Action::save:
      try {
        const auto name = free_name();
        save(name);
        state_.message = "saved as " + std::filesystem::absolute(name).string();
      } catch (const std::exception& error) {
        state_.message = error.what();
      }
      break;
    case Action::close:
      state_.closed = true;
      interactor_->TerminateApp();
      return;
  }
  if (action == Action::mirror || action == Action::solid || action == Action::joint) {
    look();
  }
  draw();
}

void Viewer::look() {
  const ViewLayout places = layout();
  const int* const size = window_->GetSize();
  shown_width_ = size[0];
  shown_height_ = size[1];
  for (std::size_t n = 0; n < panels_.size(); ++n) {
    const Box& box = places.panels[n];
    panels_[n]->renderer()->SetViewport(box.x / size[0], box.y / size[1], box.right() / size[0],
                                        box.top() / size[1]);
  }
  const Box& first = places.panels.front();
  panels_.front()->look(state_, first.width / first.height);
}

void Viewer::refresh() {
  const ViewLayout places = layout();
  for (std::size_t n = 0; n < panels_.size(); ++n) {
    panels_[n]->show(frame_of_run(n), state_, scale());
  }
  std::vector<ViewedRun> viewed;
  for (std::size_t n = 0; n < panels_.size(); ++n) {
    viewed.push_back({panels_[n].get(), frame_of_run(n)});
  }
  const View view{places, state_, scale(), times_, viewed};
  // Measuring words takes most of the time, and most words stay from moment to moment.
  ViewState still = state_;
  still.moment = 0;
  if (still != lasting_state_ || still_width_ != shown_width_ || still_height_ != shown_height_) {
    Page lasting(shown_width_, shown_height_, Page::Ground::clear);
    draw_lasting(lasting, view);
    lasting.show_in(*lasting_words_, 1);
    lasting_state_ = still;
    still_width_ = shown_width_;
    still_height_ = shown_height_;
  }
  Page page(shown_width_, shown_height_, Page::Ground::clear);
  draw_passing(page, view);
  page.show_in(*passing_words_, 1);
}

Point Viewer::pixel_of(std::size_t run, Point mm) const { return panels_.at(run)->pixel_of(mm); }

void Viewer::save(const std::filesystem::path& png) {
  window_->Render();
  write_window(*window_, png, shown_width_);
}

}  // namespace tabmelt
