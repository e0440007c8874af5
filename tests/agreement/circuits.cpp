// Sources and circuits: data sheets, and exact discharges and charges.
#include <cmath>
#include <limits>

#include "solver/circuit/charging.h"
#include "solver/circuit/loop.h"
#include "tests/agreement/row.h"

namespace tabmelt::agreement {
namespace {

using namespace circuit;

Loop bank(double capacitance, double voltage, double esr, double inductance) {
  CapacitorBank source;
  source.part_capacitance = capacitance;
  source.part_esr = esr;
  source.charge_voltage = voltage;
  Circuit c;
  c.source = source;
  c.extra_inductance = inductance;
  return Loop(c);
}

LoopState closed(const Loop& loop) { return loop.close_switch(loop.initial_state()); }

double shorted(double farads, double ohms) {
  const Loop loop = bank(farads, 2.7, ohms, 0);
  return loop.advance(closed(loop), 1e-30, 0).state.current;
}

}  // namespace

Section sources() {
  Section s{"Supercapacitors",
            "Makers state the short-circuit current rounded, and the largest resistance.",
            {}};
  s.rows = {{"350 F, 2.7 V, 3.2 mΩ, shorted [A]", "maker's data sheet, 2.7 V cells of 350 F", 840,
             shorted(350, 3.2e-3), 0.03},
            {"310 F, 2.7 V, 2.2 mΩ, shorted [A]", "maker's data sheet, 2.7 V cells of 310 F", 1200,
             shorted(310, 2.2e-3), 0.03}};
  return s;
}

Section exact_circuits() {
  Section s{"Exact: circuits",
            "Series R-L-C from rest, one step from 0 to the moment; charging of a bank.",
            {}};
  const std::string rlc = "natural response of R-L-C; matrix exponential";
  const struct {
    const char* name;
    double C, V, L, R, time, current;
  } rows[] = {{"under-damped", 0.05, 20, 2e-6, 0.004, 4.16348590799e-4, 2085.3651164},
              {"critical", 0.05, 20, 2e-6, 0.012649110640673517, 3.16227766017e-4, 1163.33693845},
              {"over-damped", 1, 8, 1e-6, 0.004, 7.60345996301e-4, 1748.48473838},
              {"supercapacitor", 10, 5.4, 5e-7, 0.0025, 9.78202138555e-4, 2093.33762917}};
  for (const auto& row : rows) {
    const Loop loop = bank(row.C, row.V, row.R, row.L);
    s.rows.push_back({std::string(row.name) + ", peak current [A]", rlc, row.current,
                      loop.advance(closed(loop), row.time, 0).state.current, 1e-9});
  }
  const Loop divided = bank(2, 6, 1e-3, 0);
  s.rows.push_back({"2 F, 6 V: energy in 1.5 mΩ of 2.5 mΩ after 5 ms [J]",
                    "first-order R-C; quadrature", 18.6767578821,
                    divided.advance(closed(divided), 5e-3, 1.5e-3).energy.in_load_resistance,
                    1e-9});
  const Charge charge = charge_to_voltage({5, 5.4, 0.04}, 100, 1, 5.4 - 0.05 * 0.04);
  s.rows.push_back({"100 F charged from 1 V at 5 A to 5.4 V, down to 50 mA [s]",
                    "constant current, then constant voltage; quadrature", 102.420680744,
                    charge.time, 1e-9});
  const double no_limit = std::numeric_limits<double>::infinity();
  s.rows.push_back({"2 F charged from 4 V at 6 V: lost in any resistor [J]", "C (Vs - V1)²/2", 4,
                    charge_to_voltage({no_limit, 6, 0.05}, 2, 4, 6 - 1e-9).lost, 1e-6});
  return s;
}

}  // namespace tabmelt::agreement
