#include <fmt/format.h>

#include <cmath>

#include "io/case/draft.h"
#include "solver/circuit/capacitor.h"
#include "solver/circuit/conductors.h"

namespace tabmelt {
namespace {

// Two descriptions of one thing may both stand in a case if they agree.
bool differ(double a, double b) { return std::abs(a - b) > 1e-6 * std::max(a, b); }

}  // namespace

std::vector<std::string> bench_complaints(const Draft& d) {
  std::vector<std::string> list;
  const circuit::Circuit& c = d.problem.circuit;
  if (d.is_given("source.part_esr") && d.is_given("source.dissipation_factor") &&
      d.bank.part_capacitance > 0 && d.dissipation_frequency > 0) {
    const double esr = circuit::esr_from_dissipation(d.dissipation_factor, d.bank.part_capacitance,
                                                     d.dissipation_frequency);
    if (differ(esr, d.bank.part_esr))
      list.push_back(
          fmt::format("source.dissipation_factor, source.part_esr: the dissipation factor means "
                      "{:.4g} mohm, not {:.4g} mohm; give one of them",
                      esr * 1e3, d.bank.part_esr * 1e3));
  }
  const auto too_clean = [&](const char* key, double resistance, const Contact& contact,
                             const MaterialPtr& a, const MaterialPtr& b) {
    if (resistance > 0 && measured_film(d, contact, a, b, resistance) < 0)
      list.push_back(
          fmt::format("{}, pressing.force: {:.4g} mohm is less than clean metal resists "
                      "under {:.4g} N",
                      key, resistance * 1e3, d.problem.pressing.force));
  };
  const Problem& p = d.problem;
  too_clean("contact.tip.resistance", d.tip_resistance, p.under_tip(), p.electrode.material,
            p.top().material);
  for (std::size_t n = 0; n < p.joints(); ++n)
    too_clean("contact.faying.resistance", d.faying_resistance, p.joint(n), p.sheets[n].material,
              p.sheets[n + 1].material);
  if (d.is_given("leads.gauge") && d.is_given("leads.cross_section")) {
    const double area = circuit::awg_cross_section(d.lead_gauge);
    if (differ(area, c.leads.cross_section))
      list.push_back(
          fmt::format("leads.gauge, leads.cross_section: this gauge is {:.4g} mm2, not {:.4g} mm2; "
                      "give one of them",
                      area * 1e6, c.leads.cross_section * 1e6));
  }
  if (d.is_given("switch.part_resistance") && d.is_given("switch.on_resistance")) {
    const double whole =
        d.switch_part_resistance * d.switch_resistance_factor / c.power_switch.parallel;
    if (differ(whole, c.power_switch.on_resistance))
      list.push_back(
          fmt::format("switch.part_resistance, switch.on_resistance: the parts make {:.4g} mohm, "
                      "not {:.4g} mohm; give one of them",
                      whole * 1e3, c.power_switch.on_resistance * 1e3));
  }
  if (d.main_pulse == 0 && (d.is_given("switch.first") || d.is_given("switch.pause")))
    list.emplace_back(
        "switch.first, switch.pause, switch.main: a first pulse needs a main pulse after it, "
        "switch.main");
  if (d.bounces > 0 && d.main_pulse == 0 && !d.is_given("switch.pulses"))
    list.emplace_back(
        "switch.bounces, switch.pulses: a contactor that bounces needs switch.pulses or "
        "switch.main");
  for (std::size_t n = 0; n < d.conductors.size(); ++n) {
    const Conductor& conductor = d.conductors[n];
    const bool wide = conductor.frame_width > 0, high = conductor.frame_height > 0;
    if (wide != high)
      list.push_back(
          fmt::format("conductor {}: a frame needs both frame_width and frame_height", n + 1));
    else if (wide && conductor.piece.cross_section > 0 && !frame_is_open(conductor))
      list.push_back(
          fmt::format("conductor {}: the frame is no wider than its wire is thick ({:.4g} mm)",
                      n + 1, 1e3 * circuit::round_diameter(conductor.piece.cross_section)));
  }
  return list;
}

}  // namespace tabmelt
