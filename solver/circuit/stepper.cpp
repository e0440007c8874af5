#include "solver/circuit/stepper.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>

#include "solver/circuit/linear_motion.h"

namespace tabmelt::circuit {
namespace {

// A capacitor that waits until it overcomes the forward drop is let past it by this part of the set
// voltage, so that the current sets out upwards.
constexpr double past_drop = 1e-12;
// Turns from one mode to the other within one step after which the rest of it stays in one mode:
// far more than a damped swing makes, so that round-off cannot keep a step from ending.
constexpr int most_turns = 200;

// A row of the table in the header, in a = i - origin.a and b = w - origin.b. The origin is near
// what is small or about to be compared, so that it keeps its digits.
struct Mode {
  Point origin;
  Affine node;              // n [V]
  Affine store_rate;        // dw/dt [V/s]
  Affine turn{-1, 0, 0};    // rises past zero: the source turns to its other mode
  Affine recharge{};        // i_c [A]
  double lasts = infinity;  // [s] at most
  // Where the source sets the current, not the loop: at the start, its rate, and the exact end.
  std::optional<double> given{};  // [A]
  Affine given_rate{};            // [A/s]
  std::optional<double> last{};   // [A]
};

class Stepper {
 public:
  Stepper(const Circuit& circuit, const LoopElements& loop, double first_closing,
          const LoopState& start, double dt, double load_resistance)
      : circuit_(circuit),
        loop_(loop),
        load_(load_resistance),
        R_(loop.total_resistance() + load_resistance),
        U_(loop.switch_drop),
        first_closing_(first_closing),
        dt_(dt),
        left_(dt),
        end_(start.time + dt),
        out_{start, {}, {0, 0, infinity}, {}},
        state_(out_.state) {}

  StepOutcome march() {
    Mode m = begin();
    for (int turns = 0; left_ > 0; m = mode()) {
      const LinearMotion motion = motion_in(m);
      const double turn = turns < most_turns ? motion.first_rise(m.turn, left_) : infinity;
      const bool may_die = flows_ && one_way() && !m.given && loop_.inductance > 0;
      const double dies = may_die ? motion.first_rise({-m.origin.a, -1, 0}, left_) : infinity;
      const double time = std::min({left_, turn, dies, m.lasts});
      pass(m, motion, time, dies <= time ? std::optional(0.0) : m.last);
      if (dies <= time) {
        state_.extinguished = true;
        flows_ = false;
        out_.ended = dt_ - left_;
      } else if (m.lasts <= time) {
        if (beyond_) open_for_good();
      } else if (turn <= time) {
        ++turns;
        if (waits_)
          flows_ = true;
        else
          beyond_ = !beyond_;
        waits_ = false;
      }
    }
    if (!beyond_) state_.over_time = 0;
    state_.time = end_;
    return out_;
  }

 private:
  bool one_way() const { return circuit_.power_switch.kind == SwitchKind::thyristor; }

  Mode begin() {
    double& i = state_.current;
    const double w = state_.store_voltage;
    if (loop_.inductance == 0) i = 0;  // remembers nothing
    flows_ = state_.closed && !state_.cut_off && !state_.extinguished;
    const auto* supply = std::get_if<BenchSupply>(&circuit_.source);
    const bool capacitor = supply && supply->output_capacitance > 0;
    if (flows_ && one_way() && !current_is_prescribed(circuit_.source) && !(i > 0)) {
      flows_ = (supply ? voltage_at_rest(*supply, w) : w) > U_;
      waits_ = !flows_ && capacitor && supply->voltage > U_;
    }
    if (!flows_) i = 0;
    beyond_ = capacitor && supply->output_esr == 0 && w < supply->voltage;
    Mode m = mode();
    if (!beyond_ && m.turn(start_in(m)) >= 0) {
      beyond_ = true;
      m = mode();
    }
    if (!beyond_) state_.over_time = 0;
    return m;
  }

  // --- the table of modes ---

  Mode mode() const {
    if (!flows_ && current_is_prescribed(circuit_.source)) return {};
    return std::visit([this](const auto& source) { return mode_of(source); }, circuit_.source);
  }

  Mode mode_of(const CapacitorBank& bank) const {
    return {{0, U_}, {U_, 0, 1}, {0, -1 / bank.capacitance(), 0}};
  }

  Mode mode_of(const Battery& battery) const {
    Mode m{{}, {0, 0, 1}, {}};
    if (!battery.cut_off_current) return m;
    const double cut = *battery.cut_off_current;
    m.turn = beyond_ ? Affine{cut, -1, 0} : Affine{-cut, 1, 0};
    if (beyond_) m.lasts = std::max(0.0, battery.cut_off_delay - state_.over_time);
    return m;
  }

  Mode mode_of(const BenchSupply& supply) const {
    const double V = supply.voltage, I = supply.current_limit;
    const double C = supply.output_capacitance, Rc = supply.output_esr;
    if (!beyond_) {
      const double conducts = C > 0 && Rc > 0 ? 1 / Rc : 0;
      const Affine recharge{0, 0, -conducts};
      return {{0, V}, {V, 0, 0}, {0, 0, C > 0 ? -conducts / C : 0}, {-I, 1, -conducts}, recharge};
    }
    if (C > 0) {
      const double i0 = state_.current > 0.5 * I ? I : 0, rest = U_ + R_ * i0;
      const Affine node{rest + Rc * (I - i0), -Rc, 1}, recharge{I - i0, -1, 0};
      const double goal = waits_ ? U_ + past_drop * V : V;
      return {{i0, rest}, node, (1 / C) * recharge, {node.one - goal, -Rc, 1}, recharge};
    }
    const double node = U_ + R_ * I;
    Mode m{{I, V}, {node, 0, 0}, {}, {node - V, 0, 0}};
    m.given = I;
    return m;
  }

  Mode mode_of(const ExponentialCurrent& source) const {
    const double since = std::max(0.0, state_.time - first_closing_);
    const double i = source.peak * std::exp(-since / source.time_constant);
    return prescribed(i, {0, -1 / source.time_constant, 0}, i);
  }

  // Straight lines. A stretch also ends where one passes through zero.
  Mode mode_of(const TableCurrent& table) const {
    const double now = state_.time;
    const auto next = std::upper_bound(table.time.begin(), table.time.end(), now);
    const double kink = next != table.time.end() ? *next : infinity;
    double i = 0, slope = 0, last = 0, lasts = kink < end_ ? kink - now : infinity;
    if (next != table.time.begin() && next != table.time.end()) {
      const std::size_t k = static_cast<std::size_t>(next - table.time.begin()) - 1;
      const double length = kink - table.time[k], rise = table.current[k + 1] - table.current[k];
      const auto at = [&](double t) {
        return std::lerp(table.current[k], table.current[k + 1], (t - table.time[k]) / length);
      };
      i = at(now);
      slope = rise / length;
      const double zero = -i / slope;
      const bool passes = now + zero > now && zero < std::min(lasts, left_);
      last = passes ? 0 : at(std::min(kink, end_));
      if (passes) lasts = zero;
    }
    Mode m = prescribed(i, {slope, 0, 0}, i + last);
    m.lasts = lasts;
    m.last = last;
    return m;
  }

  // The source finds the voltage; `direction` has the sign of the current.
  Mode prescribed(double current, const Affine& rate, double direction) const {
    Mode m;
    m.node = {direction != 0 ? std::copysign(U_, direction) : 0, R_, 0};
    m.given = current;
    m.given_rate = rate;
    return m;
  }

  // --- one stretch ---

  LinearMotion motion_in(const Mode& m) const {
    const Affine& w = m.store_rate;
    if (!flows_) return {{}, w, start_in(m)};
    if (m.given) return {m.given_rate, w, start_in(m)};
    const Affine u = over_inductance(m);
    if (loop_.inductance > 0) return {(1 / loop_.inductance) * u, w, start_in(m)};
    if (!(u.a < 0))
      throw std::invalid_argument("the source needs some resistance or inductance in its loop");
    return {(-u.b / u.a) * w, w, start_in(m)};
  }

  // L di/dt
  Affine over_inductance(const Mode& m) const {
    return {m.node.one - (U_ + R_ * m.origin.a), m.node.a - R_, m.node.b};
  }

  Point start_in(const Mode& m) const {
    const double b = state_.store_voltage - m.origin.b;
    if (!flows_ || m.given || loop_.inductance > 0)
      return {m.given.value_or(state_.current) - m.origin.a, b};
    const Affine u = over_inductance(m);
    return {(u.one + u.b * b) / (R_ - m.node.a), b};
  }

  // Marches on and books; `last` replaces the current at the end, known without round-off.
  void pass(const Mode& m, const LinearMotion& motion, double time, std::optional<double> last) {
    const Moments sum = motion.moments(time);
    const Point& start = motion.start();
    const Point end{start.a + sum.gain.a, start.b + sum.gain.b};
    const Affine current = flows_ ? Affine{m.origin.a, 1, 0} : Affine{};
    const double since = dt_ - left_;
    note(motion, current, time, end, [&](double t, double i) {
      if (!(std::abs(i) > out_.extremes.current)) return;
      out_.extremes.current = std::abs(i);
      out_.extremes.current_time = since + t;
    });
    note(motion, m.node, time, end, [&](double, double n) {
      out_.extremes.lowest_voltage = std::min(out_.extremes.lowest_voltage, n);
    });
    StepEnergy& e = out_.energy;
    const double lost = recharge_resistance() * sum.product(m.recharge, m.recharge);
    const Affine over_current = sum.times(current);  // int i (1, a, b) dt
    const double charge = over_current.one;
    const double square = std::max(0.0, current.one * charge + current.a * over_current.a);
    e.charge += charge;
    e.square_current += square;
    e.from_source +=
        m.node.one * charge + m.node.a * over_current.a + m.node.b * over_current.b + lost;
    e.in_source += loop_.source_resistance * square + lost;
    e.in_leads += loop_.lead_resistance * square;
    e.in_joints += loop_.joint_resistance * square;
    e.in_switch += loop_.switch_resistance * square + U_ * std::abs(charge);
    e.in_load_resistance += load_ * square;
    const double i0 = current(start), i = last.value_or(current(end));
    const double change = last ? i - i0 : current.a * sum.gain.a;
    e.to_inductance += 0.5 * loop_.inductance * change * (i0 + i);
    state_.current = i;
    state_.store_voltage += sum.gain.b;
    state_.source_voltage = m.node(end);
    state_.time += time;
    if (beyond_) state_.over_time += time;
    left_ = time < left_ ? left_ - time : 0;
  }

  // A value at the ends of a stretch and where it turns; later swings are smaller.
  template <typename Note>
  static void note(const LinearMotion& motion, const Affine& f, double time, const Point& end,
                   const Note& take) {
    take(0, f(motion.start()));
    double turn = motion.first_turn(f);
    for (int n = 0; n < 2 && turn < time; ++n, turn += motion.between_turns())
      take(turn, motion.value(f, turn));
    take(time, f(end));
  }

  double recharge_resistance() const {
    const auto* supply = std::get_if<BenchSupply>(&circuit_.source);
    return supply ? supply->output_esr : 0;
  }

  // What the inductance holds is spent in the protection of the battery.
  void open_for_good() {
    const double held = 0.5 * loop_.inductance * state_.current * state_.current;
    out_.energy.to_inductance -= held;
    out_.energy.in_source += held;
    state_.current = 0;
    state_.cut_off = true;
    flows_ = beyond_ = false;
    out_.ended = dt_ - left_;
  }

  const Circuit& circuit_;
  const LoopElements& loop_;
  double load_, R_, U_;  // [ohm], [ohm] with the loop, [V]
  double first_closing_;
  double dt_, left_, end_;
  bool flows_ = false;   // the loop carries current
  bool waits_ = false;   // the supply's capacitor is filled until it overcomes the forward drop
  bool beyond_ = false;  // supply: in its limit; battery: at its cut-off current or above
  StepOutcome out_;
  LoopState& state_;
};

}  // namespace

double voltage_at_rest(const BenchSupply& supply, double store_voltage) {
  if (!(supply.output_capacitance > 0)) return supply.voltage;
  return std::min(supply.voltage, store_voltage + supply.output_esr * supply.current_limit);
}

StepOutcome step(const Circuit& circuit, const LoopElements& loop, double first_closing,
                 const LoopState& start, double dt, double load_resistance) {
  return Stepper(circuit, loop, first_closing, start, dt, load_resistance).march();
}

}  // namespace tabmelt::circuit
