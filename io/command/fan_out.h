// Several observers as one. Every one hears of each step; any one of them can stop the run.
#pragma once

#include <vector>

#include "solver/result/observer.h"

namespace tabmelt::command {

class FanOut : public Observer {
 public:
  explicit FanOut(std::vector<Observer*> observers) : observers_(std::move(observers)) {}

  void begins(const Result& result) override {
    for (Observer* observer : observers_) observer->begins(result);
  }
  bool prepared() override {
    bool go_on = true;
    for (Observer* observer : observers_) go_on &= observer->prepared();
    return go_on;
  }
  bool step_done(const StepRecord& record, double progress) override {
    bool go_on = true;
    for (Observer* observer : observers_) go_on &= observer->step_done(record, progress);
    return go_on;
  }
  void frame_taken(const Frame& frame) override {
    for (Observer* observer : observers_) observer->frame_taken(frame);
  }

 private:
  std::vector<Observer*> observers_;
};

}  // namespace tabmelt::command
