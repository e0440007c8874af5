#include "viz/viewer.h"

#include <vtkCallbackCommand.h>
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
