#include "solver/phase_change/enthalpy.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace tabmelt {
namespace {
constexpr double lowest = 100.0, highest = 12000.0;  // [K] tabulated span
constexpr std::size_t buckets = 4096;
}  // namespace

Enthalpy::Enthalpy(const Material& m) {
  melts_ = m.melting.has_value();
  if (melts_) {
    solidus_ = m.melting->solidus;
    liquidus_ = m.melting->liquidus;
    if (liquidus_ - solidus_ < narrowest_melting) {
      const double middle = 0.5 * (solidus_ + liquidus_);
      solidus_ = middle - 0.5 * narrowest_melting;
      liquidus_ = middle + 0.5 * narrowest_melting;
    }
  }
  boiling_ = m.boiling ? m.boiling->temperature : std::numeric_limits<double>::infinity();

  const auto solid = [&](double T) { return m.specific_heat.at(T); };
  const auto liquid = [&](double T) {
    return m.specific_heat_liquid.empty() ? m.specific_heat.at(T) : m.specific_heat_liquid.at(T);
  };

  std::vector<double> nodes{lowest, reference_temperature, highest};
  const auto add = [&](const Curve& c) {
    nodes.insert(nodes.end(), c.temperature.begin(), c.temperature.end());
  };
  add(m.specific_heat);
  if (melts_) {
    add(m.specific_heat_liquid);
    nodes.insert(nodes.end(), {solidus_, liquidus_});
  }
  for (const auto& t : m.transformations) nodes.insert(nodes.end(), {t.from, t.to});
  if (m.boiling) nodes.insert(nodes.end(), {boiling_, boiling_ + boiling_width});
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  std::erase_if(nodes, [](double T) { return T < lowest || T > highest; });

  // c just inside an interval; m.specific_heat may be discontinuous only at phase boundaries.
  const auto sensible = [&](double T, double middle) {
    if (!melts_ || middle < solidus_) return solid(T);
    if (middle > liquidus_) return liquid(T);
    const double s = (T - solidus_) / (liquidus_ - solidus_);
    return (1 - s) * solid(solidus_) + s * liquid(liquidus_) +
           m.melting->latent_heat / (liquidus_ - solidus_);
  };
  double H = 0;
  for (std::size_t n = 0; n + 1 < nodes.size(); ++n) {
    const double a = nodes[n], b = nodes[n + 1], middle = 0.5 * (a + b);
    double extra = 0;
    for (const auto& t : m.transformations)
      if (middle > t.from && middle < t.to) extra += t.latent_heat / (t.to - t.from);
    if (m.boiling && middle > boiling_ && middle < boiling_ + boiling_width)
      extra += m.boiling->latent_heat / boiling_width;
    const double ca = m.density * (sensible(a, middle) + extra);
    const double cb = m.density * (sensible(b, middle) + extra);
    segments_.push_back({a, H, ca, (cb - ca) / (b - a)});
    H += 0.5 * (ca + cb) * (b - a);
  }
  double shift = 0;
  for (const Segment& s : segments_)
    if (s.T0 == reference_temperature) shift = s.H0;
  for (Segment& s : segments_) {
    s.H0 -= shift;
    start_H_.push_back(s.H0);
  }
  start_H_.push_back(std::numeric_limits<double>::infinity());  // ends every search
  const double last = H - shift;
  bucket_start_ = start_H_.front();
  const double bucket_width = (last - bucket_start_) / static_cast<double>(buckets);
  per_bucket_ = 1 / bucket_width;
  bucket_.resize(buckets);
  std::uint32_t k = 0;
  for (std::size_t b = 0; b < buckets; ++b) {
    // A shade lower: an enthalpy on the edge may round into the bucket above.
    const double from = bucket_start_ + (static_cast<double>(b) - 1e-6) * bucket_width;
    while (start_H_[k + 1] <= from) ++k;
    bucket_[b] = k;
  }
  all_boiled_ = std::numeric_limits<double>::infinity();
  if (m.boiling) {
    all_boiled_ = at(boiling_ + boiling_width);
    boiling_H_ = at(boiling_);
    vapour_heat_ = at(boiling_ + boiling_width) - boiling_H_;
  }
}

double Enthalpy::at(double T) const {
  const auto above = std::upper_bound(segments_.begin() + 1, segments_.end(), T,
                                      [](double t, const Segment& s) { return t < s.T0; });
  const Segment& s = *(above - 1);
  const double x = T - s.T0;
  return s.H0 + x * (s.c0 + 0.5 * s.slope * x);
}

std::size_t Enthalpy::segment_of_enthalpy(double H) const {
  const double b =
      std::clamp((H - bucket_start_) * per_bucket_, 0.0, static_cast<double>(buckets) - 1.0);
  // Signed: the conversion is one instruction.
  std::size_t k = bucket_[static_cast<std::size_t>(static_cast<std::int64_t>(b))];
  while (start_H_[k + 1] <= H) ++k;
  return k;
}

void Enthalpy::temperature_and_capacity(double H, double& T, double& capacity) const {
  temperatures(1, &H, &T, &capacity);
}

// T and dH/dT of some cells that lie in one segment.
template <std::size_t count>
void Enthalpy::within(const Segment& segment, const double* __restrict H, double* __restrict T,
                      double* __restrict capacity) {
  const Segment s = segment;
  const double square = s.c0 * s.c0, least = 1e-12 * square;
#pragma GCC unroll 1
  for (std::size_t n = 0; n < count; ++n) {
    const double h = H[n] - s.H0, left = square + 2 * s.slope * h;
    // The capacity there; below a millionth of the segment's first it is round-off.
    const double root = std::sqrt(left > least ? left : least);
    T[n] = s.T0 + 2 * h / (s.c0 + root);
    capacity[n] = root;
  }
}

void Enthalpy::temperatures(std::size_t count, const double* H, double* T, double* capacity) const {
  constexpr std::size_t block = 8;
  std::array<double, block> unasked;
  std::size_t n = 0;
  // Neighbours most often lie in one segment, which is then looked up once.
  for (; n + block <= count; n += block) {
    const double* now = H + n;
    double* root = capacity ? capacity + n : unasked.data();
    const std::size_t k = segment_of_enthalpy(now[0]);
    bool alike = true;
    for (std::size_t i = 1; i < block; ++i)
      alike = alike & (now[i] >= start_H_[k]) & (now[i] < start_H_[k + 1]);
    if (alike) {
      within<block>(segments_[k], now, T + n, root);
      continue;
    }
    for (std::size_t i = 0; i < block; ++i)
      within<1>(segments_[segment_of_enthalpy(now[i])], now + i, T + n + i, root + i);
  }
  for (; n < count; ++n)
    within<1>(segments_[segment_of_enthalpy(H[n])], H + n, T + n,
              capacity ? capacity + n : unasked.data());
}

double Enthalpy::temperature(double H) const {
  double T = 0, c = 0;
  temperature_and_capacity(H, T, c);
  return T;
}

double Enthalpy::heat_capacity(double H) const {
  double T = 0, c = 0;
  temperature_and_capacity(H, T, c);
  return c;
}

double Enthalpy::liquid_fraction(double T) const {
  if (!melts_) return 0;
  return std::clamp((T - solidus_) / (liquidus_ - solidus_), 0.0, 1.0);
}

double Enthalpy::vapour_fraction(double H) const {
  if (vapour_heat_ <= 0) return 0;
  return std::clamp((H - boiling_H_) / vapour_heat_, 0.0, 1.0);
}

}  // namespace tabmelt
