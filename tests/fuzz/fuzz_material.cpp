// Material text: it is refused, or makes a material whose enthalpy rises and comes back.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "io/case/complaint_log.h"
#include "io/case/metals/material_reader.h"
#include "solver/material/property_table.h"
#include "solver/phase_change/enthalpy.h"

namespace {

void require_sense(const tabmelt::Material& material) {
  const tabmelt::Enthalpy enthalpy(material);
  double before = -1e300;
  for (double T = 250; T < 8000; T *= 1.1) {
    const double H = enthalpy.at(T);
    if (!std::isfinite(H) || H <= before) std::abort();
    before = H;
    if (std::abs(enthalpy.temperature(H) - T) > 1e-6 * T) std::abort();
    if (!(material.conductivity_z(T) > 0) || !(material.conductivity_r(T) > 0)) std::abort();
    if (material.conducts_current() && !(material.resistivity_at(T) > 0)) std::abort();
  }
  tabmelt::PropertyTable table(material);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  tabmelt::ComplaintLog log;
  try {
    const toml::table table = tabmelt::parsed_toml(text, "material.toml", log);
    tabmelt::check_property_names("fuzz", table, log);
    tabmelt::PropertyNodes nodes;
    for (const auto& [key, node] : table) nodes[std::string(key.str())] = &node;
    if (const auto material = tabmelt::read_material("fuzz", nodes, table.source(), log))
      require_sense(*material);
    else
      log.throw_if_any();
  } catch (const tabmelt::InputError& error) {
    if (error.complaints().empty()) std::abort();
  }
  return 0;
}
