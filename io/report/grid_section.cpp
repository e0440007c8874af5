#include "io/report/grid_section.h"

#include <vector>

#include "solver/words/in_words.h"

namespace tabmelt::report {

std::string own_error_words(const std::vector<FigureError>& errors) {
  std::string doubtful;
  for (const FigureError& e : errors)
    if (e.relative() > promised_error)
      doubtful +=
          (doubtful.empty() ? "" : ", ") + e.name + " (" + in_words::percent(e.relative()) + ")";
  const std::string promise = in_words::percent(promised_error);
  return doubtful.empty()
             ? "Grid and time steps add less than " + promise + " to the figures of this run."
             : "Grid and time steps may add more than " + promise + " to: " + doubtful +
                   ". tabmelt refine looks closer; numerics.resolution makes cells smaller.";
}

Section grid_section(const Result& run) {
  Table table(std::vector<Column>{
      {"Figure"}, {"Value", Align::right}, {"Grid and steps add up to", Align::right}});
  for (const FigureError& e : run.own_errors)
    table.add_row({in_words::capitalised(e.name), in_words::quantity(e.value, e.unit),
                   in_words::percent(e.relative())});
  Section section{"grid", "Grid and time steps", {Prose(own_error_words(run.own_errors)), table}};
  if (run.own_errors.empty()) section.blocks = {Prose("What they add was not estimated.")};
  return section;
}

}  // namespace tabmelt::report
