#include "viz/window/viewer.h"

#include <vtkCallbackCommand.h>
#include <vtkInteractorStyleTrackballCamera.h>
#include <vtkPNGWriter.h>
#include <vtkRenderWindow.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>
#include <vtkWindowToImageFilter.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"
#include "viz/window/display.h"
#include "viz/window/probe.h"
#include "viz/window/window.h"

namespace tabmelt::window {

namespace {

constexpr unsigned long frame_milliseconds = 33;

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

Viewer::Viewer(std::vector<StoredRun> runs, const std::optional<TemperatureRange>& range, int width,
               int height)
    : runs_(std::move(runs)) {
  if (!display_available()) {
    throw PictureError("no X server with OpenGL (GLX) answers on the display");
  }
  times_ = all_times(runs_);
  window_ = vtkSmartPointer<vtkRenderWindow>::New();
  window_->SetSize(width, height);
  window_->SetMultiSamples(0);
  window_->SetNumberOfLayers(3);
  window_->SetWindowName(title_of(runs_.front()).c_str());
  // From behind: paper, solids, the page with all the rest.
  background_->SetBackground(palette::paper.red, palette::paper.green, palette::paper.blue);
  background_->InteractiveOff();
  window_->AddRenderer(background_);
  for (const StoredRun& run : runs_) {
    shown_.push_back(std::make_unique<ShownRun>(run));
    solids_.push_back(std::make_unique<SolidSection>(*shown_.back()));
    vtkRenderer* const renderer = solids_.back()->renderer();
    renderer->SetLayer(1);
    renderer->SetPreserveColorBuffer(0);
    renderer->SetActiveCamera(solids_.front()->renderer()->GetActiveCamera());
    window_->AddRenderer(renderer);
  }
  overlay_.renderer()->SetLayer(2);
  window_->AddRenderer(overlay_.renderer());
  interactor_ = vtkSmartPointer<vtkRenderWindowInteractor>::New();
  interactor_->SetRenderWindow(window_);
  interactor_->SetInteractorStyle(vtkNew<vtkInteractorStyleTrackballCamera>());
  state_.level = first_isotherm(runs_.front());
  state_.range = range;
  double best = times_.back();
  for (const char* const name : {"faying_temperature", "peak_temperature"}) {
    if (const auto peak = peak_of(runs_.front(), name)) {
      best = peak->time;
      break;
    }
  }
  state_.moment = nearest(times_, runs_.front().frame_times[nearest_frame(runs_.front(), best)]);
  interactor_->Initialize();
  watch();
  look();
  draw();
}

Viewer::~Viewer() { interactor_->RemoveAllObservers(); }

void Viewer::run() {
  interactor_->CreateRepeatingTimer(frame_milliseconds);
  interactor_->Start();
}

MomentLayout Viewer::layout() const {
  return {static_cast<double>(shown_width_),
          static_cast<double>(shown_height_),
          runs_.size(),
          {.place = state_.probe.has_value(), .line = state_.line.has_value()},
          buttons().height};
}

const Scale& Viewer::scale() {
  return kept(scales_, state_.field, [&] { return common_scale(shown_, state_); });
}

Page Viewer::page() {
  const MomentLayout places = layout();
  const View view{places, state_, scale(), times_, shown_, *sight_};
  Page page(shown_width_, shown_height_, Page::Ground::clear);
  if (!state_.solid) {
    draw_sections(page, view);
    draw_names(page, view);
  }
  draw_around_sections(page, view);
  draw_buttons(page, buttons(), state_);
  draw_probe(page, view, state_);
  const Box& first = places.panels.front();
  if (!state_.message.empty()) {
    page.rectangle({first.x + 1, first.y + 1, first.width - 2, 24}, faded(palette::white, 0.9));
    page.text({first.x + 10, first.y + 13}, state_.message,
              {.size = 14, .colour = palette::bad, .bold = true, .room = first.width - 20});
  }
  if (state_.help) {
    draw_help(page);
  }
  return page;
}

void Viewer::draw() {
  overlay_.show(page());
  const MomentLayout places = layout();
  const View view{places, state_, scale(), times_, shown_, *sight_};
  for (std::size_t n = 0; n < solids_.size(); ++n) {
    solids_[n]->renderer()->SetDraw(state_.solid);
    if (state_.solid) {
      solids_[n]->show(view.frame(n), state_, view.scale);
    }
  }
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
  const Control& control = control_of(action);
  if (control.toggle != nullptr) state_.*control.toggle = !(state_.*control.toggle);
  if (control.field) state_.field = *control.field;
  switch (action) {
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
    case Action::hotter:
      state_.level += 50;
      break;
    case Action::colder:
      state_.level -= 50;
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
    default:  // the list says what it switches
      break;
  }
  if (action == Action::mirror || action == Action::solid || action == Action::joint) {
    look();
  }
  draw();
}

void Viewer::look() {
  const int* const size = window_->GetSize();
  shown_width_ = size[0];
  shown_height_ = size[1];
  const MomentLayout places = layout();
  for (std::size_t n = 0; n < solids_.size(); ++n) {
    const Box& box = places.panels[n];
    solids_[n]->renderer()->SetViewport(box.x / size[0], box.y / size[1], box.right() / size[0],
                                        box.top() / size[1]);
  }
  const Box& first = places.panels.front();
  const double shape = first.width / first.height;
  const StoredRun& run = runs_.front();
  const Window window = state_.joint ? window_around_spot(run, shape) : whole(run);
  sight_.emplace(window, first, state_.mirror);
  solids_.front()->look(window, shape);
}

Sight Viewer::sight(std::size_t run) const { return sight_->in(layout().panels.at(run)); }

void Viewer::save(const std::filesystem::path& png) {
  // VTK would report an unwritable path on the terminal only, so the path is tried first.
  if (!std::ofstream(png, std::ios::binary)) {
    throw PictureError("cannot write " + png.string());
  }
  window_->Render();
  vtkNew<vtkWindowToImageFilter> grab;
  grab->SetInput(window_);
  grab->SetInputBufferTypeToRGB();
  grab->ReadFrontBufferOff();
  vtkNew<vtkPNGWriter> writer;
  writer->SetInputConnection(grab->GetOutputPort());
  writer->SetFileName(png.c_str());
  writer->Write();
}

void show_window(std::vector<StoredRun> runs, const std::optional<TemperatureRange>& range) {
  Viewer(std::move(runs), range).run();
}

}  // namespace tabmelt::window
