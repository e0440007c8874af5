// Prints how computed welds stand beside practice: published welds, the everyday weld, the box.
//   practice [handbook] [core] [box] [window] [lobe]       all without arguments
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <string>
#include <thread>

#include "solver/solve.h"
#include "tests/practice/handbook.h"
#include "tests/practice/weld.h"

namespace tabmelt::practice {
namespace {

void print_handbook() {
  fmt::print(
      "published weld    rounded: current  nugget mm   flat: current  nugget mm  published "
      "mm  sticks\n");
  const auto& list = handbook();
  std::vector<std::string> lines(list.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t n = next++; n < list.size(); n = next++) {
      const Handbook& h = list[n];
      const Problem p = half_model(h, 1, false);
      const Result r = solve(p);
      const Verdict v = judge(p, r);
      const bool sticks = std::any_of(v.findings.begin(), v.findings.end(), [](const Finding& f) {
        return f.holds && f.outcome == Outcome::electrode_sticking;
      });
      std::string resistance =
          fmt::format("tip radius {:.2f} of {:.2f} mm; faying {:.0f} tip {:.0f} strip {:.0f} C;",
                      1e3 * r.contacts[0].radius, h.tip / 2, r.joints[0].peak.value - 273,
                      r.peak_tip.value - 273, r.sheets[0].peak.value - 273);
      for (double t : {0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 0.98})
        for (const StepRecord& s : r.history)
          if (s.time >= t * 1e-3 * h.duration) {
            resistance += fmt::format(" {:.0f}", 2e6 * s.load_resistance);
            break;
          }
      lines[n] = fmt::format("{:16} {:10.2f} {:12.2f} {:14.2f} {:12.2f} {:10.2f}   {}  R uohm{}\n",
                             h.name, needed_current(h, false), nugget(r), needed_current(h, true),
                             nugget(solve(half_model(h, 1, true))), h.nugget, sticks ? "yes" : "no",
                             resistance);
    }
  };
  std::jthread other(work);
  work();
  other.join();
  for (const std::string& line : lines) fmt::print("{}", line);
}

void count(const char* name, const std::vector<Setting>& settings, bool each) {
  const std::vector<Weld> welds = weld_all(settings);
  std::map<char, int> grades;
  std::map<std::string, int> reasons;
  for (std::size_t n = 0; n < welds.size(); ++n) {
    ++grades[letter(welds[n])];
    for (const Finding& f : welds[n].verdict.findings)
      if (f.holds) ++reasons[key(f.outcome)];
    const Setting& s = settings[n];
    if (each)
      fmt::print(
          "{} {:20} {:.2f} {} {:5.0f} A {:5.2f} ms {:4.1f} N {:.2f} mm {}  nugget {:.2f} wall "
          "{:4.0f} I2t {:5.0f} {}\n",
          letter(welds[n]), s.strip, s.thickness, s.slit ? "slit  " : "unslit", s.current,
          s.duration, s.force, s.tip, s.flat ? "flat " : "round", 1e3 * welds[n].nugget,
          welds[n].inner_wall - 273.15, s.current * s.current * s.duration * 1e-3, told(welds[n]));
  }
  fmt::print("{} of {}: good {}, overdone {}, small or stuck {}, no weld {} ", name, welds.size(),
             grades['G'], grades['o'], grades['s'], grades['.']);
  for (const auto& [reason, times] : reasons) fmt::print(" {} {}", reason, times);
  fmt::print("\n");
}

void print_windows(bool slit) {
  std::vector<Setting> settings;
  std::vector<double> currents;
  for (double I = 450; I <= 2600; I *= 1.05) currents.push_back(I);
  const double durations[] = {3, 5, 8, 12};
  for (const double ms : durations)
    for (const double I : currents) {
      Setting s;
      s.slit = slit;
      s.duration = ms;
      s.current = I;
      settings.push_back(s);
    }
  const auto welds = weld_all(settings);
  fmt::print("0.15 mm nickel {}, 30 N: current 450 A x 1.05^n\n", slit ? "slit" : "unslit");
  for (std::size_t d = 0; d < 4; ++d) {
    std::string row, why;
    double low = 0, high = 0;
    for (std::size_t n = 0; n < currents.size(); ++n) {
      const Weld& w = welds[d * currents.size() + n];
      row += letter(w);
      if (w.grade == Grade::good) {
        if (low == 0) low = currents[n];
        high = currents[n];
      }
      if (w.grade == Grade::overdone && why.empty() && low > 0)
        why = fmt::format("{:.0f} A: ", currents[n]) + told(w) + [&] {
          std::string t;
          for (const Finding& f : w.verdict.findings)
            if (f.holds && f.outcome != Outcome::fused)
              t += fmt::format(" [{} {:.3g}/{:.3g} at {:.2f} ms]", f.quantity, f.value, f.limit,
                               1e3 * f.time);
          return t;
        }();
    }
    fmt::print("{:4.0f} ms {}  {:.0f} - {:.0f} A, energy x {:.2f}, then {}\n", durations[d], row,
               low, high, low > 0 ? (high / low) * (high / low) : 0, why);
  }
}

void print_force() {
  std::vector<Setting> settings;
  for (const double ms : {5.0, 8.0})
    for (double F = 10; F <= 70; F *= 1.1) {
      Setting s;
      s.duration = ms;
      s.current = ms == 5 ? 1500 : 1250;
      s.force = F;
      settings.push_back(s);
    }
  const auto welds = weld_all(settings);
  for (std::size_t n = 0; n < welds.size(); ++n)
    fmt::print("{:.0f} A {:.0f} ms {:5.1f} N {}\n", settings[n].current, settings[n].duration,
               settings[n].force, told(welds[n]));
}

void print_lobe(bool slit) {
  std::vector<Setting> settings;
  for (double I = 2300; I > 750; I -= 100)
    for (int n = 0; n < 14; ++n) {
      Setting s;
      s.slit = slit;
      s.current = I;
      s.duration = 1.5 * std::pow(10.0, n / 13.0);
      settings.push_back(s);
    }
  const auto welds = weld_all(settings);
  for (std::size_t n = 0; n < welds.size(); ++n) {
    if (n % 14 == 0) fmt::print("\n{:5.0f} A ", settings[n].current);
    fmt::print("{}", letter(welds[n]));
  }
  fmt::print("\n");
}

}  // namespace
}  // namespace tabmelt::practice

int main(int count, char** words) {
  using namespace tabmelt::practice;
  const auto asked = [&](const std::string& word) {
    if (count < 2) return true;
    return std::any_of(words + 1, words + count, [&](const char* w) { return word == w; });
  };
  const bool each = count > 1 && asked("each");
  if (asked("handbook")) print_handbook();
  if (asked("core")) tabmelt::practice::count("core", core(60), each);
  if (asked("box")) tabmelt::practice::count("box", box(150), each);
  if (asked("window")) {
    print_windows(false);
    print_windows(true);
    print_force();
  }
  if (asked("lobe")) print_lobe(false);
}
