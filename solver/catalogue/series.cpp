#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "solver/catalogue/catalogue.h"
#include "solver/catalogue/stack_names.h"

namespace tabmelt {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

template <typename List, typename Of>
auto entry(List StepRecord::*list, std::size_t n, Of of) {
  return [list, n, of](const StepRecord& step) -> double {
    const auto& values = step.*list;
    return n < values.size() ? of(values[n]) : unknown;
  };
}

// Over the joints of a step.
template <typename Of, typename Pick>
auto over_joints(Of of, Pick pick) {
  return [of, pick](const StepRecord& step) -> double {
    if (step.joints.empty()) return unknown;
    double value = of(step.joints.front());
    for (const JointRecord& joint : step.joints) value = pick(value, of(joint));
    return value;
  };
}

double least(double a, double b) { return std::min(a, b); }
double largest(double a, double b) { return std::max(a, b); }
double sum(double a, double b) { return a + b; }

class List {
 public:
  explicit List(const Result& run) : names_(run.parts), spots_(spots_of(run)) {}

  void add(std::string key, std::string unit, std::string words,
           std::function<double(const StepRecord&)> value) {
    list_.push_back({std::move(key), std::move(unit), std::move(words), std::move(value)});
  }
  void add(const char* key, const char* unit, const char* words, double StepRecord::*value) {
    add(key, unit, words, [value](const StepRecord& step) { return step.*value; });
  }
  void add(const char* key, const char* words, int StepRecord::*value) {
    add(key, "1", words, [value](const StepRecord& step) { return double(step.*value); });
  }

  // A number of each touching surface: of every spot that is computed.
  void add_contacts(const std::string& key, const std::string& unit, const std::string& words,
                    double ContactRecord::*value, double (*together)(double, double)) {
    for (std::size_t spot = 0; spot < spots_; ++spot)
      for (std::size_t n = 0; n < names_.contacts.size(); ++n)
        add(of_spot(spot) + names_.contacts[n].key + "_" + key, unit,
            words + ", " + names_.contacts[n].words + words_of(spot),
            [spot, n, value](const StepRecord& step) {
              const bool known = spot < step.spots.size() && n < step.spots[spot].contacts.size();
              return known ? step.spots[spot].contacts[n].*value : unknown;
            });
    if (names_.joints() < 2) return;
    add("faying_" + key, unit, words + ", all joints", [value, together](const StepRecord& step) {
      if (step.spots.empty() || step.spot().contacts.size() < 2) return unknown;
      double all = step.spot().contacts[1].*value;
      for (std::size_t n = 2; n < step.spot().contacts.size(); ++n)
        all = together(all, step.spot().contacts[n].*value);
      return all;
    });
  }
  void add_spots(const char* key, const char* unit, const std::string& words,
                 double SpotRecord::*value, bool judged_too = true) {
    for (std::size_t n = judged_too ? 0 : 1; n < spots_; ++n)
      add(of_spot(n) + key, unit, words + words_of(n),
          entry(&StepRecord::spots, n, [value](const SpotRecord& spot) { return spot.*value; }));
  }
  void add_joints(const char* key, const char* of_several, const char* unit,
                  const std::string& words, double JointRecord::*value) {
    const auto of = [value](const JointRecord& joint) { return joint.*value; };
    add(key, unit, names_.joints() < 2 ? words : words + ", least of the joints",
        over_joints(of, least));
    for (std::size_t n = 0; names_.joints() > 1 && n < names_.joints(); ++n)
      add(names_.joint(n).key + "_" + of_several, unit, words + ", " + names_.joint(n).words,
          entry(&StepRecord::joints, n, of));
  }
  void add_sheets(const char* key, const char* unit, const std::string& words,
                  double (*value)(const StepRecord&, std::size_t)) {
    for (std::size_t n = 0; n < names_.sheets.size(); ++n)
      add(names_.sheets[n].key + "_" + key, unit, words + " the " + names_.sheets[n].words,
          [value, n](const StepRecord& step) {
            return n < step.sheets.size() ? value(step, n) : unknown;
          });
  }
  void add_named(const std::vector<std::string>& names, const std::string& kind,
                 const std::string& words, std::vector<double> StepRecord::*values) {
    std::vector<std::string> taken;
    for (const Series& one : list_) taken.push_back(one.key);
    for (std::size_t n = 0; n < names.size(); ++n) {
      taken.push_back(key_of(kind + names[n], taken));
      add(taken.back(), "K", words + names[n], entry(values, n, [](double T) { return T; }));
    }
  }

  const StackNames& names() const { return names_; }
  std::vector<Series> list() && { return std::move(list_); }

 private:
  static std::size_t spots_of(const Result& run) {
    if (!run.history.empty()) return run.history.front().spots.size();
    return std::max<std::size_t>(1, run.landings.size());
  }
  static std::string of_spot(std::size_t n) { return n == 0 ? "" : "other_"; }
  static std::string words_of(std::size_t n) { return n == 0 ? "" : ", the other spot"; }

  StackNames names_;
  std::size_t spots_;
  std::vector<Series> list_;
};

}  // namespace

std::string key_of(const std::string& name, const std::vector<std::string>& taken) {
  std::string key = name;
  for (char& c : key) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '_' || c == '-';
    if (!plain) c = '_';
  }
  std::string free = key;
  for (int n = 2; std::find(taken.begin(), taken.end(), free) != taken.end(); ++n)
    free = fmt::format("{}_{}", key, n);
  return free;
}

std::vector<Series> series_of_steps(const Result& run) {
  using S = StepRecord;
  List list(run);
  list.add("time", "s", "time at the end of the step", &S::time);
  list.add("step", "s", "length of the step", &S::step);
  list.add("current", "A", "current in the loop", &S::current);
  list.add("source_voltage", "V", "source voltage behind its internal resistance",
           &S::source_voltage);
  list.add("load_voltage", "V", "voltage over the load (all spots in series)", &S::load_voltage);
  list.add("load_resistance", "ohm",
           "resistance of the load (all spots in series); 0 without current", &S::load_resistance);
  list.add_contacts("resistance", "ohm", "contact resistance, one spot", &ContactRecord::resistance,
                    sum);
  list.add_contacts("voltage", "V", "largest local contact voltage", &ContactRecord::voltage,
                    largest);
  list.add_contacts("true_area", "m2", "metal touching metal", &ContactRecord::true_area, least);
  list.add_contacts("contact_radius", "m", "radius of the face that touches",
                    &ContactRecord::radius, least);
  list.add("joint_share", "1", "part of the current that crosses the lowest faying surface",
           &S::base_share);
  list.add_spots("force", "N", "force per electrode, after blow-off", &SpotRecord::force);
  list.add_spots("resistance", "ohm", "resistance of the spot", &SpotRecord::resistance, false);
  list.add("peak_temperature", "K", "hottest point",
           [](const S& step) { return hottest_of_all(step); });
  list.add("tip_temperature", "K", "hottest point of the electrode face", &S::tip_temperature);
  list.add("top_temperature", "K", "hottest point of the upper surface under the tip",
           &S::top_temperature);
  list.add_joints("faying_temperature", "temperature", "K", "hottest faying point, cooler side",
                  &JointRecord::temperature);
  list.add_sheets("temperature", "K", "hottest of", hottest_of_sheet);
  list.add("inner_wall_temperature", "K", "hottest point of the lowest sheet's underside",
           &S::inner_wall_temperature);
  list.add_joints("nugget_diameter", "nugget_diameter", "m",
                  "diameter of the faying area molten on both sides now",
                  &JointRecord::nugget_diameter);
  list.add_sheets("penetration", "m", "melt depth from the joints into",
                  [](const S& step, std::size_t n) { return step.sheets[n].penetration; });
  list.add("energy_in", "J", "energy delivered to one spot so far", &S::energy_in);
  list.add("energy_stored", "J", "energy in the metal of one spot, latent heat included",
           &S::energy_stored);
  list.add("energy_out", "J", "energy conducted out of the ends", &S::energy_out);
  list.add_spots("energy_expelled", "J", "energy carried off as sparks",
                 &SpotRecord::energy_expelled);
  list.add("energy_residual", "J", "energy balance error", &S::energy_residual);
  list.add("newton_iterations", "iterations of the enthalpy solve", &S::newton_iterations);
  list.add("coupling_iterations", "iterations of contacts and potential", &S::coupling_iterations);
  list.add("linear_iterations", "iterations of the linear solves", &S::linear_iterations);
  std::vector<std::string> layers;
  for (const Name& layer : list.names().layers) layers.push_back(layer.words);
  list.add_named(layers, "layer_", "hottest point of the layer ", &S::layer_temperature);
  list.add_named(run.probe_names, "probe_", "temperature at the probe ", &S::probes);
  return std::move(list).list();
}

}  // namespace tabmelt
