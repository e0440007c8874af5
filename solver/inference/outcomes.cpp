#include "solver/inference/outcomes.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <initializer_list>

namespace tabmelt::inference {
namespace {

constexpr double least_force = 1;   // [N] what peels off by itself
constexpr double any_factor = 100;  // of a force that was noted wrongly
constexpr std::size_t combinations = std::size_t{1} << notes;

// The least margin of these limits; nothing if none was judged.
std::optional<double> least_margin(const study::Judged& run,
                                   std::initializer_list<const char*> keys) {
  std::optional<double> least;
  for (const study::Limit& limit : run.limits)
    for (const char* key : keys)
      if (limit.key == key) least = std::min(least.value_or(limit.margin), limit.margin);
  return least;
}

double below(double z) { return boost::math::cdf(boost::math::normal_distribution<>(), z); }

double entropy(double p) { return p > 0 ? -p * std::log2(p) : 0; }

}  // namespace

std::string words(Note note) {
  constexpr const char* list[] = {"held", "button", "spark", "stuck tip", "hole"};
  return list[static_cast<std::size_t>(note)];
}

bool Noted::empty() const {
  return !peel_force &&
         std::none_of(yes.begin(), yes.end(), [](const auto& one) { return one.has_value(); });
}

Foretold foretold(const study::Judged& run, std::optional<double> peel_force,
                  const NoteModel& model) {
  Foretold f;
  if (run.state != study::State::computed) return f;
  f.peel_force = peel_force;
  const auto set = [&](Note note, std::optional<double> margin, double sign) {
    const auto n = static_cast<std::size_t>(note);
    if (margin)
      f.yes[n] = model.wrong + (1 - 2 * model.wrong) * below(sign * *margin / model.scatter[n]);
  };
  set(Note::held, least_margin(run, {"no_bond"}), 1);
  set(Note::button, least_margin(run, {"small_nugget"}), 1);
  set(Note::spark, least_margin(run, {"surface_sparking", "expulsion"}), -1);
  set(Note::stuck_tip, least_margin(run, {"electrode_sticking"}), -1);
  set(Note::hole, least_margin(run, {"strip_burn_through", "can_puncture"}), -1);
  return f;
}

double log_likelihood(const Noted& noted, const Foretold& f, const NoteModel& model) {
  double sum = 0;
  for (std::size_t n = 0; n < notes; ++n)
    if (noted.yes[n]) sum += std::log(*noted.yes[n] ? f.yes[n] : 1 - f.yes[n]);
  if (!noted.peel_force || !f.peel_force) return sum;
  // Densities of ln F.
  const double deviation = std::log(model.force_factor);
  const double off =
      std::log(std::max(*noted.peel_force, least_force) / std::max(*f.peel_force, least_force));
  const double right = boost::math::pdf(boost::math::normal_distribution<>(0, deviation), off);
  return sum + std::log((1 - model.wrong) * right + model.wrong / (2 * std::log(any_factor)));
}

double expected_information(const std::vector<Foretold>& draws, const std::vector<double>& weight) {
  std::array<double, combinations> mean{};
  double known = 0;
  for (std::size_t i = 0; i < draws.size(); ++i) {
    for (std::size_t o = 0; o < combinations; ++o) {
      double p = 1;
      for (std::size_t n = 0; n < notes; ++n)
        p *= (o >> n & 1) != 0 ? draws[i].yes[n] : 1 - draws[i].yes[n];
      mean[o] += weight[i] * p;
      known += weight[i] * entropy(p);
    }
  }
  double all = 0;
  for (const double p : mean) all += entropy(p);
  return std::max(0.0, all - known);
}

}  // namespace tabmelt::inference
