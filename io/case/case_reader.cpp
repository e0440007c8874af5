#include "io/case/case_reader.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "io/case/current_trace.h"
#include "io/case/key_path.h"
#include "io/case/key_value.h"
#include "io/case/overrides.h"
#include "io/case/units.h"
#include "io/case/unknown_key.h"

namespace tabmelt {
namespace {

int line_at(const toml::node* node) {
  return node ? static_cast<int>(node->source().begin.line) : 0;
}

// The key that decides whether another one has a meaning: first word of "source.kind = ...".
std::string governing(const Key& key) {
  return key.applies.words.substr(0, key.applies.words.find(' '));
}

bool is_section(const std::string& path) {
  const auto& all = sections();
  return std::any_of(all.begin(), all.end(), [&](const KeyTable& s) {
    return s.path == path || s.path.starts_with(path + ".");
  });
}

}  // namespace

CaseReader::CaseReader(const toml::table& root, const std::filesystem::path& file,
                       ComplaintLog& log)
    : root_(root), file_(file), log_(log), shelf_(root["materials"].as_table(), file, log) {
  draft_.title = file.stem().string();
  if (draft_.title.empty()) draft_.title = "unnamed";
}

void CaseReader::collect(const toml::table& table, const std::string& section, Nodes& into) {
  for (const auto& [name, node] : table) {
    const std::string path = joined_path(section, name.str());
    const bool repeated = is_repeated(path) && !(path == "strip" && node.is_table());
    if (path == "materials" || path == "spread" || (section.empty() && repeated)) continue;
    if (find_key(path)) {
      into[path] = &node;
    } else if (!is_section(path)) {
      log_.add(name.source(), log_.full() ? path : unknown_key(path, section));
    } else if (const toml::table* inner = node.as_table()) {
      into[path] = &node;
      collect(*inner, path, into);
    } else {
      log_.add(node.source(), fmt::format("{} must be a table [{}], not a value", path, path));
      broken_.insert(path);
    }
  }
}

void CaseReader::take(const Key& key, Value value, const toml::node* place) {
  if (key.form.kind == Kind::material) {
    value.material = shelf_.find(value.text, file_.string(), line_at(place));
    if (!value.material) broken_.insert(key.path);
  }
  if (key.set) key.set(draft_, value);
}

void CaseReader::read_given(const std::vector<Key>& keys, const Nodes& nodes) {
  for (const Key& key : keys) {
    const auto found = nodes.find(key.path);
    if (found == nodes.end()) continue;
    draft_.given.insert(key.path);
    if (auto value = checked_value(key, *found->second, log_)) {
      take(key, std::move(*value), found->second);
    } else {
      broken_.insert(key.path);
      // Go on with something that makes sense, so that one slip brings one complaint.
      if (key.form.kind == Kind::choice)
        take(key, standard_value(key, key.form.words.front()), nullptr);
    }
  }
}

std::optional<Standard> CaseReader::standard_of(const Key& key) const {
  if (!key.standard.value.empty()) return key.standard;
  return key.rule ? key.rule(draft_) : std::nullopt;
}

void CaseReader::fill_in(const std::vector<Key>& keys, const Nodes& nodes,
                         const toml::node* section, const std::string& label) {
  for (const Key& key : keys) {
    const auto found = nodes.find(key.path);
    const bool given = found != nodes.end();
    // The key that decides is wrong itself: say nothing about what hangs on it.
    const bool undecided = broken_.contains(governing(key));
    if (key.applies.holds && !key.applies.holds(draft_)) {
      if (given && !undecided)
        log_.add(found->second->source(), fmt::format("{} has no meaning here; it applies if {}",
                                                      key.path, key.applies.words));
      continue;
    }
    if (given && !broken_.contains(key.path)) {
      full_text_.set(key.path, literal(*found->second), false);
      continue;
    }
    if (const auto standard = standard_of(key)) {
      take(key, standard_value(key, standard->value), section);
      if (given) continue;
      defaults_.push_back({label.empty() ? key.path : joined_path(label, name_of(key.path)),
                           standard->value, standard->reason});
      full_text_.set(key.path, standard_literal(key, standard->value), true);
    } else if (key.required && !given) {
      broken_.insert(key.path);
      const std::string table = table_of(key.path);
      if (undecided || broken_.contains(table)) continue;
      const auto header = nodes_.find(table);
      const toml::node* place = section                  ? section
                                : header != nodes_.end() ? header->second
                                                         : nullptr;
      log_.add(file_.string(), line_at(place),
               fmt::format("{} is missing{}; allowed is {}. {}", key.path,
                           place ? "" : fmt::format(" (in a table [{}])", table), allowed(key),
                           key.meaning));
    }
  }
}

void CaseReader::read_source_file(const Nodes& nodes) {
  if (broken_.contains("source.kind") || draft_.source_kind != SourceKind::measured_current) return;
  const auto file = nodes.find("source.file"), table = nodes.find("source.table");
  const bool has_file = file != nodes.end(), has_table = table != nodes.end();
  if (has_file == has_table) {
    const auto source = nodes.find("source");
    log_.add(file_.string(),
             line_at(has_file                ? file->second
                     : source != nodes.end() ? source->second
                                             : nullptr),
             has_file ? "source.file and source.table are both given; one is enough"
                      : "a measured current needs either source.file or source.table");
    broken_.insert("source.table");
  }
  if (!has_file || broken_.contains("source.file")) return;
  std::filesystem::path path = file->second->value_or(std::string());
  if (path.is_relative()) path = file_.parent_path() / path;
  ComplaintLog trouble;
  try {
    draft_.trace = current_trace(path, trouble);
    trouble.throw_if_any();
  } catch (const InputError& error) {
    broken_.insert("source.table");
    for (const Complaint& complaint : error.complaints()) {
      if (complaint.line > 0)
        log_.add(complaint);
      else
        log_.add(file->second->source(),
                 fmt::format("source.file: {}: {}", complaint.file, complaint.message));
    }
  }
}

const toml::array* CaseReader::tables_of(const std::string& name) {
  const toml::node* node = root_.get(name);
  if (!node) return nullptr;
  const toml::array* list = node->as_array();
  const bool tables = list && std::all_of(list->begin(), list->end(),
                                          [](const toml::node& n) { return n.is_table(); });
  if (tables && list->size() <= most_entries(name)) return list;
  log_.add(node->source(),
           tables ? fmt::format("{} {}s are too many; allowed are at most {}", list->size(), name,
                                most_entries(name))
                  : fmt::format(
                        "{} must be a list of tables: write [[{}]] with double brackets above each "
                        "entry",
                        name, name));
  broken_.insert(name);
  return nullptr;
}

template <typename Entry>
void CaseReader::read_entries(const std::string& list_name, const std::vector<Key>& keys,
                              std::vector<Entry>& entries) {
  const toml::array* list = tables_of(list_name);
  if (!list) return;
  for (const toml::node& node : *list) {
    entries.emplace_back();
    const std::string label = fmt::format("{} {}", list_name, entries.size());
    Nodes nodes;
    collect(*node.as_table(), list_name, nodes);
    full_text_.open_entry(list_name);
    read_given(keys, nodes);
    fill_in(keys, nodes, &node, label);
    nodes_[label] = &node;
    for (const Key& key : keys) {
      if (broken_.erase(key.path) > 0) broken_.insert(label);
      draft_.given.erase(key.path);
    }
  }
}

void CaseReader::read_strips() {
  if (!draft_.has_can()) draft_.can.radius = can_disc_radius(draft_);
  const toml::node* node = root_.get("strip");
  if (node && !node->is_table()) {
    read_entries("strip", strip_keys(), draft_.strips);
    if (!draft_.strips.empty()) return;
    if (!broken_.contains("strip")) log_.add(node->source(), "strip: the list is empty");
  }
  // Without a list, or with one that is no use: a single strip.
  draft_.strips.emplace_back();
  read_given(strip_keys(), nodes_);
  fill_in(strip_keys(), nodes_, nullptr, "");
}

void CaseReader::preset_layers() {
  const auto preset = draft_.preset();
  if (!preset) return;
  for (const PresetLayer& layer : preset->layers) {
    InnerLayer inner;
    inner.name = layer.name;
    inner.material = shelf_.find(layer.material, file_.string(), 0);
    inner.thickness = units::in_si(layer.thickness, "mm");
    if (!inner.material) broken_.insert(fmt::format("layer {}", draft_.problem.inner.size() + 1));
    full_text_.open_entry("layer");
    full_text_.set("layer.name", quoted(layer.name), true);
    full_text_.set("layer.material", quoted(layer.material), true);
    full_text_.set("layer.thickness", quoted(layer.thickness), true);
    std::string value = fmt::format("{}, {}", layer.material, layer.thickness);
    inner.molten_limit = layer.molten_limit;
    inner.damage_limit = layer.damage_limit;
    inner.limit_reason = layer.limit_reason;
    if (inner.molten_limit) {
      full_text_.set("layer.molten_limit", fmt::format("{}", *inner.molten_limit), true);
      value += fmt::format(", at most {:.0f} % of it molten", 100 * *inner.molten_limit);
    }
    if (inner.damage_limit) {
      full_text_.set("layer.damage_limit", fmt::format("{}", *inner.damage_limit), true);
      value += fmt::format(", at most {:.0f} % of the SEI lost", 100 * *inner.damage_limit);
    }
    const std::string limit = layer.limit_reason.empty() ? "" : "; limit: " + layer.limit_reason;
    if (!limit.empty()) full_text_.set("layer.limit_reason", quoted(layer.limit_reason), true);
    defaults_.push_back({"layer \"" + layer.name + "\"", value, preset->layers_reason + limit});
    draft_.problem.inner.push_back(std::move(inner));
  }
}

void CaseReader::read_spreads(const toml::table& table, const std::string& path) {
  for (const auto& [name, node] : table) {
    const std::string key = joined_path(path, name.str());
    if (const toml::table* inner = node.as_table()) {
      read_spreads(*inner, key);
      continue;
    }
    const auto address = address_of(key);
    const auto text = node.value_exact<std::string>();
    if (!address)
      log_.add(name.source(), "spread." + key + ": " + no_such_key(key));
    else if (!address->is_number())
      log_.add(name.source(), fmt::format("spread.{}: the key is no number", key));
    else if (!text)
      log_.add(node.source(), fmt::format("spread.{} must be a text such as \"20 %\"", key));
    else
      spreads_.push_back({key, *text, line_at(&node)});
  }
}

int CaseReader::line_of(const std::string& key) const {
  const auto found = nodes_.find(key);
  if (found != nodes_.end()) return line_at(found->second);
  const std::string table = table_of(key);
  return table.empty() ? 0 : line_of(table);
}

// A complaint about several keys goes to the first of them that stands in the file.
void CaseReader::attach(const std::string& complaint) {
  const std::string head = complaint.substr(0, complaint.find(": "));
  std::vector<std::string> keys;
  for (std::size_t at = 0; at < head.size();) {
    const std::size_t comma = std::min(head.find(", ", at), head.size());
    keys.push_back(head.substr(at, comma - at));
    at = comma + 2;
  }
  if (std::any_of(keys.begin(), keys.end(), [&](const auto& k) { return broken_.contains(k); }))
    return;
  auto best =
      std::find_if(keys.begin(), keys.end(), [&](const auto& k) { return nodes_.contains(k); });
  if (best == keys.end())
    best = std::find_if(keys.begin(), keys.end(), [&](const auto& k) { return line_of(k) > 0; });
  log_.add(file_.string(), best == keys.end() ? 0 : line_of(*best), complaint);
}

// What the problem no longer shows: widths and directions are gone once the rim radii are known.
std::vector<std::string> CaseReader::draft_complaints() const {
  std::vector<std::string> list;
  const double tip = 2 * draft_.problem.electrode.tip_radius;
  const double spacing = draft_.problem.arrangement.spacing;
  // A can widened to its effective rim hides that the electrodes stand beside it.
  const double reach = (spacing + tip) / 2, disc = can_disc_radius(draft_);
  if (draft_.side_by_side() && draft_.has_can() && !draft_.is_given("can.rim_radius") &&
      reach > disc && reach <= draft_.can.radius)
    list.push_back(
        fmt::format("arrangement.spacing, can.radius, cell.size: the electrodes reach "
                    "{:.4g} mm from the middle, the can's radius is {:.4g} mm",
                    reach * 1e3, disc * 1e3));
  for (std::string& complaint : bench_complaints(draft_)) list.push_back(std::move(complaint));
  for (std::size_t n = 0; n < draft_.strips.size(); ++n) {
    const StripDraft& strip = draft_.strips[n];
    const std::string key = draft_.strips.size() == 1 ? "strip" : fmt::format("strip {}", n + 1);
    if (draft_.is_given("strip.rim_radius") && draft_.is_given("strip.radius")) continue;
    if (tip > strip.width)
      list.push_back(
          fmt::format("electrode.tip_diameter, {}.width: the tip ({:.4g} mm) is wider "
                      "than the strip ({:.4g} mm)",
                      key, tip * 1e3, strip.width * 1e3));
    else if (draft_.side_by_side() && strip.across && spacing + tip > strip.width)
      list.push_back(
          fmt::format("{}.direction, {}.width, arrangement.spacing: across, the pair "
                      "takes {:.4g} mm, the strip has {:.4g} mm",
                      key, key, (spacing + tip) * 1e3, strip.width * 1e3));
  }
  return list;
}

void CaseReader::check_together() {
  finish(draft_);
  std::vector<std::string> list = draft_complaints();
  for (std::string& complaint : complaints(draft_.problem)) list.push_back(std::move(complaint));
  for (const std::string& complaint : list) attach(complaint);
}

Case CaseReader::read() {
  collect(root_, "", nodes_);
  if (const toml::node* own = root_.get("materials"); own && !own->is_table())
    log_.add(own->source(), "materials must be tables [materials.<name>]");
  if (const toml::node* spread = root_.get("spread")) {
    if (const toml::table* table = spread->as_table())
      read_spreads(*table, "");
    else
      log_.add(spread->source(), "spread must be a table: spread.pressing.force = \"20 %\"");
  }
  draft_.can_given = root_.contains("can");
  if (const toml::array* list = root_["strip"].as_array()) draft_.strip_count = list->size();
  read_given(first_keys(), nodes_);
  read_given(later_keys(), nodes_);
  fill_in(first_keys(), nodes_, nullptr, "");
  read_strips();
  fill_in(later_keys(), nodes_, nullptr, "");
  read_source_file(nodes_);
  if (root_.contains("layer"))
    read_entries("layer", layer_keys(), draft_.problem.inner);
  else
    preset_layers();
  read_entries("conductor", conductor_keys(), draft_.conductors);
  read_entries("probe", probe_keys(), draft_.problem.probes);
  shelf_.check_own();
  check_together();
  log_.throw_if_any();

  if (draft_.is_given("source.file"))
    full_text_.replace_source_file(draft_.trace.time, draft_.trace.current);
  Case result;
  result.problem = std::move(draft_.problem);
  result.title = draft_.title;
  result.file = file_;
  result.full_text = full_text_.text(shelf_.complete_text(), result.problem.inner.empty());
  result.defaults = std::move(defaults_);
  result.inputs = full_text_.inputs();
  result.materials = shelf_.used();
  result.spreads = std::move(spreads_);
  result.notices = shelf_.notices();
  return result;
}

}  // namespace tabmelt
