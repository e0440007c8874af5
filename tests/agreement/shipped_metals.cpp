#include "tests/agreement/shipped_metals.h"

#include <fstream>
#include <iterator>

#include "io/case/read_case.h"
#include "solver/phase_change/enthalpy.h"

namespace tabmelt::agreement {

// As a layer inside the cell, where any material may stand.
MaterialPtr shipped(const std::string& name) {
  const std::string file = TABMELT_SOURCE_DIR "/cases/three-code-benchmark/case.toml";
  std::ifstream in(file);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return read_case_text(text + "\n[[layer]]\nname = \"it\"\nmaterial = \"" + name +
                            "\"\nthickness = \"1 mm\"\n",
                        file)
      .problem.inner.at(0)
      .material;
}

double action(const Material& metal, double T) {
  const Enthalpy enthalpy(metal);
  return integral(room, T, [&](double at) {
    return enthalpy.heat_capacity(enthalpy.at(at)) / metal.resistivity_at(at);
  });
}

}  // namespace tabmelt::agreement
