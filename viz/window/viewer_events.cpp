// What events of keys, mouse and clock do to the window.
#include <vtkCallbackCommand.h>
#include <vtkCamera.h>
#include <vtkRenderWindow.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cmath>

#include "viz/pictures/stored_values.h"
#include "viz/window/probe.h"
#include "viz/window/viewer.h"

namespace tabmelt::window {

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
        vtkCommand::LeftButtonReleaseEvent, vtkCommand::MiddleButtonPressEvent,
        vtkCommand::MiddleButtonReleaseEvent, vtkCommand::RightButtonPressEvent,
        vtkCommand::MouseMoveEvent, vtkCommand::MouseWheelForwardEvent,
        vtkCommand::MouseWheelBackwardEvent, vtkCommand::TimerEvent, vtkCommand::ConfigureEvent,
        vtkCommand::ExposeEvent}) {
    interactor_->AddObserver(event, answer_, 10);
  }
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
    case vtkCommand::MiddleButtonPressEvent:
      if (!state_.solid && panel_at(at)) {
        drag_ = Drag::sight;
        drag_from_ = at;
      }
      return !state_.solid;
    case vtkCommand::RightButtonPressEvent:
      return !state_.solid;
    case vtkCommand::LeftButtonReleaseEvent:
    case vtkCommand::MiddleButtonReleaseEvent: {
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

std::optional<std::size_t> Viewer::panel_at(Point at) const {
  const MomentLayout places = layout();
  for (std::size_t n = 0; n < places.panels.size(); ++n) {
    if (share_across(places.panels[n], at)) {
      return n;
    }
  }
  return std::nullopt;
}

bool Viewer::pressed(Point at) {
  const MomentLayout places = layout();
  state_.message.clear();
  if (const auto action = button_at(buttons(), at)) {
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
    const Point place = sight(*panel).in_mm(at);
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
  const MomentLayout places = layout();
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
      show_moment(nearest(times_, curve_axis(runs_.front(), times_).at(share(places.curve))));
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
      const Sight panel = sight(drag_panel_);
      state_.line = ProbeLine{panel.in_mm(drag_from_), panel.in_mm(at)};
      state_.probe = state_.line->at(0.5);
      break;
    }
    case Drag::sight:
      sight_->middle.x -= (at.x - drag_from_.x) / sight_->page_per_mm;
      sight_->middle.y -= (at.y - drag_from_.y) / sight_->page_per_mm;
      drag_from_ = at;
      break;
  }
  draw();
}

// Keeps what lies under the mouse where it is.
void Viewer::zoom(double factor, Point at) {
  const auto panel = panel_at(at);
  if (!panel) {
    return;
  }
  if (state_.solid) {
    vtkCamera* const camera = solids_.front()->renderer()->GetActiveCamera();
    camera->SetParallelScale(camera->GetParallelScale() / factor);
  } else {
    const Point before = sight(*panel).in_mm(at);
    sight_->page_per_mm *= factor;
    const Point after = sight(*panel).in_mm(at);
    sight_->middle.x += before.x - after.x;
    sight_->middle.y += before.y - after.y;
  }
  draw();
}

}  // namespace tabmelt::window
