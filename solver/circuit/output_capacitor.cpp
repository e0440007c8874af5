#include "solver/circuit/output_capacitor.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tabmelt::circuit {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// A capacitor that waits for the back voltage to be overcome is let past it by this part of the set
// voltage, so that the current sets out in one direction.
constexpr double past_balance = 1e-12;
// Changes of state within one step after which the rest of it stays in one state: far more than a
// damped swing makes, so that round-off cannot keep a step from ending.
constexpr int most_changes = 200;

// Time at which `value` passes `level`; it rises or falls all the way from `from` to `to`.
template <typename Value>
double crossing(const Value& value, double level, double from, double to) {
  const bool rises = value(to) > level;
  for (;;) {
    const double middle = 0.5 * (from + to);
    if (!(middle > from) || !(middle < to)) return to;
    ((value(middle) > level) == rises ? to : from) = middle;
  }
}

// R, L, C of the loop in the limit.
struct Swing {
  double resistance, inductance, capacitance;
  CapacitorDischarge from(const LoopPoint& start) const {
    return {resistance, inductance, capacitance, start};
  }
};

// First time within `most` at which p x + q u, at or below `level` at first, rises past it.
double first_rise(const Swing& swing, const LoopPoint& start, double p, double q, double level,
                  double most) {
  const CapacitorDischarge motion = swing.from(start);
  const auto value = [&](double t) {
    const LoopPoint point = motion.at(t);
    return p * point.current + q * point.drive;
  };
  double from = 0, to = most;
  const auto& [R, L, C] = swing;
  if (L > 0) {
    const double di = (start.drive - R * start.current) / L, du = -start.current / C;
    const double slope = p * di + q * du;
    const double curvature = p * (du - R * di) / L - q * di / C;
    const double turn = swing.from({slope, L * curvature + R * slope}).first_reversal();
    if (slope > 0 || (slope == 0 && curvature > 0)) {
      to = std::min(most, turn);
    } else {
      from = turn;
      to = std::min(most, turn + swing.from({0, 1}).first_reversal());
    }
  }
  if (!(from < most) || !(value(to) > level)) return infinity;
  return crossing(value, level, from, to);
}

class Stepper {
 public:
  Stepper(const BenchSupply& supply, const LoopState& start, double dt, const LoopElements& loop,
          const StepLoad& load, bool one_way)
      : supply_(supply),
        loop_(loop),
        load_(load),
        one_way_(one_way),
        resistance_(loop.total_resistance() + load.resistance),
        balance_(load.back_voltage + loop.switch_drop),
        dt_(dt),
        left_(dt),
        out_{start, {}, {}} {
    out_.extremes.lowest_voltage = start.source_voltage;
  }

  StepOutcome march() {
    const bool follows = loop_.inductance == 0;  // the current remembers nothing
    bool limited = follows ? limited_at_once() : out_.state.limited;
    for (changes_ = 0; left_ > 0; ++changes_) {
      if (follows || out_.state.current == 0) {
        const double rest = voltage_at_rest(supply_, out_.state);
        if (!(std::abs(rest) > balance_) || (one_way_ && rest < 0)) {
          wait();
          limited = follows ? limited_at_once() : voltage_at_rest(supply_, out_.state) < V();
          continue;
        }
        sign_ = rest < 0 ? -1 : 1;
      } else {
        sign_ = out_.state.current < 0 ? -1 : 1;
      }
      limited = limited ? !in_limit() : holding();
      if (out_.state.extinguished) {
        wait();
        break;
      }
    }
    out_.state.limited = limited;
    return out_;
  }

 private:
  double V() const { return supply_.voltage; }
  double I() const { return supply_.current_limit; }
  double C() const { return supply_.output_capacitance; }
  double Rc() const { return supply_.output_esr; }
  double L() const { return loop_.inductance; }
  double back() const { return sign_ * balance_; }
  bool finds_zero() const { return balance_ > 0 || one_way_; }
  double missing() const { return V() - out_.state.capacitor_voltage; }

  // Without inductance: would the regulator need more than its limit to hold its voltage?
  bool limited_at_once() const {
    const double load = resistance_ > 0 ? (V() - balance_) / resistance_ : infinity;
    const double recharge = Rc() > 0 ? missing() / Rc() : missing() > 0 ? infinity : 0;
    return load + recharge > I();
  }

  // No current: until the node overcomes the back voltage, or the step ends.
  void wait() {
    double time = left_;
    const double goal = balance_ + past_balance * V();
    if (!out_.state.extinguished && V() > goal) {
      const double lacks = goal - voltage_at_rest(supply_, out_.state);
      time = std::min(left_, std::max(0.0, C() * lacks / I()));
    }
    out_.state.current = 0;
    note_voltage(voltage_at_rest(supply_, out_.state));
    if (time > 0) {
      const StepOutcome rest = output_capacitor_recharge(supply_, out_.state, time);
      out_.energy.from_source += rest.energy.from_source;
      out_.energy.in_source += rest.energy.in_source;
      out_.state.capacitor_voltage = rest.state.capacitor_voltage;
      out_.state.source_voltage = rest.state.source_voltage;
    }
    left_ = time < left_ ? left_ - time : 0;
  }

  void note_voltage(double volts) {
    out_.extremes.lowest_voltage = std::min(out_.extremes.lowest_voltage, volts);
  }

  // Books a stretch; `stops` at the zero of the current.
  void pass(double time, double charge, double square, double change, double end_current,
            bool stops) {
    double& i = out_.state.current;
    if (stops) {
      change = -i;
      end_current = 0;
    }
    book(out_.energy, loop_, load_, charge, std::abs(charge), std::max(square, 0.0));
    if (L() > 0) out_.energy.to_inductance += L() * change * 0.5 * (i + end_current);
    i = end_current;
    note_current(out_.extremes, dt_ - left_ + time, i);
    note_voltage(out_.state.source_voltage);
    left_ = time < left_ ? left_ - time : 0;
    if (stops && one_way_) out_.state.extinguished = true;
  }

  // Returns whether the regulator holds its voltage at the end.
  bool in_limit() {
    const Swing swing{resistance_ + Rc(), L(), C()};
    const double steady = back() + resistance_ * I();  // of the capacitor, once nothing moves
    const double v = out_.state.capacitor_voltage;
    const LoopPoint start{out_.state.current - I(), v - steady};
    const bool may_change = changes_ < most_changes;
    const double holds =
        may_change ? first_rise(swing, start, -Rc(), 1, V() - steady, left_) : infinity;
    const double zero = finds_zero() && L() > 0
                            ? first_rise(swing, start, -sign_, 0, sign_ * I(), left_)
                            : infinity;
    const double time = std::min({left_, holds, zero});
    const bool stops = zero <= time;
    const CapacitorDischarge motion = swing.from(start);
    note_swing(swing, start, time);
    const StepIntegrals step = motion.integrals(time);
    const double charge = step.charge + I() * time;
    const double square = step.square_current + I() * (2 * step.charge + I() * time);
    const double volts = L() * step.current_change + swing.resistance * step.charge + steady * time;
    const double end = step.end.drive + steady;
    out_.energy.from_source += step.charge * (0.5 * (v + end) - Rc() * I()) + I() * volts;
    out_.energy.in_source += Rc() * step.square_current;
    out_.state.capacitor_voltage = end;
    out_.state.source_voltage = end - Rc() * step.end.current;
    pass(time, charge, square, step.current_change, I() + step.end.current, stops);
    if (stops || !(holds <= time)) return false;
    out_.state.source_voltage = V();
    out_.state.capacitor_voltage = V() - Rc() * (I() - out_.state.current);
    return true;
  }

  // Where the current of the loop is largest and the node deepest within a stretch in the limit.
  void note_swing(const Swing& swing, const LoopPoint& start, double time) {
    const CapacitorDischarge motion = swing.from(start);
    const double since = dt_ - left_;
    const auto node = [&](const LoopPoint& point) {
      return point.drive + back() + resistance_ * I() - Rc() * point.current;
    };
    note_current(out_.extremes, since, motion.at(0).current + I());
    note_voltage(node(motion.at(0)));
    const double half = swing.from({0, 1}).first_reversal();
    double top = motion.first_extreme();
    for (int n = 0; n < 2 && top < time; ++n, top += half) {
      note_current(out_.extremes, since + top, motion.at(top).current + I());
    }
    if (!(L() > 0)) return;
    // The node turns where its own rate of change, a swing too, is zero.
    const auto& [R, l, c] = swing;
    const double di = (start.drive - R * start.current) / l, du = -start.current / c;
    const double slope = du - Rc() * di;
    const double curvature = -di / c - Rc() * (du - R * di) / l;
    double turn = swing.from({slope, l * curvature + R * slope}).first_reversal();
    for (int n = 0; n < 2 && turn < time; ++n, turn += half) note_voltage(node(motion.at(turn)));
  }

  // Returns whether the limit is reached at the end.
  bool holding() {
    const BatteryDischarge motion(resistance_, L(), {out_.state.current, V() - back()});
    const double short_of = Rc() > 0 ? missing() : 0;
    const double limit = changes_ < most_changes ? limit_time(motion, short_of) : infinity;
    const double zero = finds_zero() ? motion.first_reversal() : infinity;
    const double time = std::min({left_, limit, zero});
    const bool stops = zero <= time;
    note_current(out_.extremes, dt_ - left_, motion.at(0).current);
    const StepIntegrals step = motion.integrals(time);
    const double rest = Rc() > 0 ? short_of * std::exp(-time / (Rc() * C())) : 0;
    const double lost = 0.5 * C() * (short_of - rest) * (short_of + rest);
    out_.energy.from_source += V() * step.charge + lost;
    out_.energy.in_source += lost;
    out_.state.capacitor_voltage = V() - rest;
    out_.state.source_voltage = V();
    const bool reaches = limit <= time && !stops;
    // The limit itself, without the round-off of the search.
    const double end = reaches ? I() - (Rc() > 0 ? rest / Rc() : 0) : step.end.current;
    pass(time, step.charge, step.square_current, step.current_change, end, stops);
    return reaches;
  }

  // When the regulator's current i + (V - v)/R_c rises past its limit.
  double limit_time(const BatteryDischarge& motion, double short_of) const {
    if (L() == 0) return infinity;  // it only falls
    const double recharge = Rc() > 0 ? short_of / Rc() : 0;
    const double fading = Rc() > 0 ? 1 / (Rc() * C()) : 0;  // [1/s]
    const double slowing = resistance_ / L();               // [1/s]
    const double rise = (V() - back() - resistance_ * out_.state.current) / L();
    const double fall = recharge * fading;
    const auto value = [&](double t) {
      return motion.at(t).current + recharge * std::exp(-fading * t);
    };
    const double turn = rise > 0 && fall > 0 && slowing != fading
                            ? std::log(rise / fall) / (slowing - fading)
                            : infinity;
    double from = 0, to = left_;
    if (rise > fall) {
      if (turn > 0) to = std::min(to, turn);
    } else {
      if (!(turn > 0) || !(turn < left_)) return infinity;
      from = turn;
    }
    return value(to) > I() ? crossing(value, I(), from, to) : infinity;
  }

  const BenchSupply& supply_;
  const LoopElements& loop_;
  const StepLoad& load_;
  bool one_way_;
  double resistance_;  // [ohm] loop and load, without R_c
  double balance_;     // [V] against the current, whichever way
  double dt_, left_;
  double sign_ = 1;
  int changes_ = 0;
  StepOutcome out_;
};

}  // namespace

double voltage_at_rest(const BenchSupply& supply, const LoopState& state) {
  if (!(supply.output_capacitance > 0)) return supply.voltage;
  return std::min(supply.voltage,
                  state.capacitor_voltage + supply.output_esr * supply.current_limit);
}

double current_without_inductance(const BenchSupply& supply, const LoopState& state,
                                  double resistance, double back_voltage) {
  const double rest = voltage_at_rest(supply, state);
  if (!(std::abs(rest) > back_voltage)) return 0;
  const double held = resistance > 0 ? (supply.voltage - back_voltage) / resistance : infinity;
  if (!(supply.output_capacitance > 0)) return std::min(held, supply.current_limit);
  const double limited = (state.capacitor_voltage + supply.output_esr * supply.current_limit -
                          std::copysign(back_voltage, rest)) /
                         (resistance + supply.output_esr);
  return std::min(held, limited);
}

StepOutcome output_capacitor_recharge(const BenchSupply& supply, const LoopState& start,
                                      double dt) {
  StepOutcome out{start, {}, {}};
  double& v = out.state.capacitor_voltage;
  const double V = supply.voltage, I = supply.current_limit, C = supply.output_capacitance;
  const double Rc = supply.output_esr;
  const double full = V - Rc * I;  // of the capacitor when the regulator leaves its limit
  const double limited = std::clamp(C * (full - v) / I, 0.0, dt);
  double lost = Rc * I * I * limited;
  if (limited > 0) v = limited < dt ? full : v + I * limited / C;
  if (limited < dt) {
    const double lacks = Rc > 0 ? V - v : 0;
    const double rest = Rc > 0 ? lacks * std::exp(-(dt - limited) / (Rc * C)) : 0;
    lost += 0.5 * C * (lacks - rest) * (lacks + rest);
    v = V - rest;
  }
  out.state.current = 0;
  out.state.source_voltage = voltage_at_rest(supply, out.state);
  out.state.limited = out.state.source_voltage < V;
  out.energy.from_source = lost;
  out.energy.in_source = lost;
  out.extremes.lowest_voltage = voltage_at_rest(supply, start);  // it only rises
  return out;
}

StepOutcome output_capacitor_step(const BenchSupply& supply, const LoopState& start, double dt,
                                  const LoopElements& loop, const StepLoad& load, bool one_way) {
  return Stepper(supply, start, dt, loop, load, one_way).march();
}

}  // namespace tabmelt::circuit
