#include "io/case/schema.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "io/case/units.h"

namespace tabmelt {
namespace {

void append(std::vector<Key>& list, std::vector<Key> more) {
  std::move(more.begin(), more.end(), std::back_inserter(list));
}

std::string in_range(double low, double high, const std::string& unit) {
  const bool open = high >= std::numeric_limits<double>::max();
  return open ? fmt::format("at least {}", units::in_unit(low, unit))
              : fmt::format("{} to {}", units::in_unit(low, unit), units::in_unit(high, unit));
}

}  // namespace

const std::vector<Key>& case_keys() {
  static const std::vector<Key> keys = [] {
    std::vector<Key> list = schema::arrangement_keys();
    append(list, schema::part_keys());
    append(list, schema::contact_keys());
    append(list, schema::pressing_keys());
    append(list, schema::source_keys());
    append(list, schema::loop_keys());
    append(list, schema::run_keys());
    return list;
  }();
  return keys;
}

const std::vector<Section>& sections() {
  static const std::vector<Section> list{
      {"", "At the top of the file, before any [table]."},
      {"cell",
       "Which cell, and which end of it. Without this table there is no cell to protect and "
       "nothing "
       "inside the can: a pure check of the computation."},
      {"arrangement", "Where the two electrodes stand."},
      {"strip", "The strip that is welded on."},
      {"electrode", "One electrode; both are alike."},
      {"can", "The sheet under the strip: bottom of the can, or cap."},
      {"contact.tip", "The face between electrode and strip."},
      {"contact.faying", "The face between strip and can, where the weld forms."},
      {"pressing", "How the electrodes are pressed on."},
      {"source", "What delivers the current."},
      {"leads", "The two cables between source and electrodes."},
      {"joints", "Bolted and crimped joints in the loop."},
      {"switch", "What starts and stops the current."},
      {"limits", "How hot the inside of the cell may get."},
      {"boundary", "Surroundings."},
      {"numerics", "Accuracy and length of the computation."},
      {"layer",
       "[[layer]], once for each layer inside the cell from the can downwards; replaces the layers "
       "that [cell] brings. `layer = []` at the top of the file leaves the inside empty."},
      {"probe", "[[probe]], once for each point whose temperature is recorded."},
  };
  return list;
}

const Key* find_key(const std::string& path) {
  for (const std::vector<Key>* list : {&case_keys(), &layer_keys(), &probe_keys()}) {
    const auto found =
        std::find_if(list->begin(), list->end(), [&](const Key& k) { return k.path == path; });
    if (found != list->end()) return &*found;
  }
  return nullptr;
}

std::string allowed(const Key& key) {
  switch (key.kind) {
    case Kind::quantity:
      return fmt::format("a text with a unit, {}", in_range(key.lowest, key.highest, key.unit));
    case Kind::number:
      return fmt::format("a number, {}", in_range(key.lowest, key.highest, "1"));
    case Kind::count:
      return fmt::format("a whole number, {:.0f} to {:.0f}", key.lowest, key.highest);
    case Kind::choice:
      return fmt::format("one of \"{}\"", fmt::join(key.words, "\", \""));
    case Kind::boolean:
      return "true or false, without quotes";
    case Kind::text:
      return "a text in quotes";
    case Kind::material:
      return "the name of a material in quotes";
    case Kind::pairs:
      return fmt::format("a list of pairs [[\"..\", \"..\"], ...], first {}, second {}",
                         in_range(key.lowest, key.highest, key.unit),
                         in_range(key.second_lowest, key.second_highest, key.second_unit));
  }
  return "";
}

void finish(Draft& draft) {
  Problem& p = draft.problem;
  p.name = draft.title;
  switch (draft.source_kind) {
    case SourceKind::capacitor_bank:
      p.circuit.source = draft.bank;
      break;
    case SourceKind::battery:
      p.circuit.source = draft.battery;
      break;
    case SourceKind::exponential_current:
      p.circuit.source = draft.exponential;
      break;
    case SourceKind::measured_current:
      p.circuit.source = draft.trace;
      break;
  }
  p.circuit.joints.clear();
  for (int n = 1; n <= draft.joint_count; ++n)
    p.circuit.joints.push_back({fmt::format("joint {}", n), draft.joint_resistance});
  if (draft.has_inner_wall_limit)
    p.cell_limits = CellLimits{draft.inner_wall_limit, draft.inner_wall_reason};
  else
    p.cell_limits.reset();
  for (InnerLayer& layer : p.inner)
    if (!layer.limit) layer.limit_reason.clear();
}

}  // namespace tabmelt
