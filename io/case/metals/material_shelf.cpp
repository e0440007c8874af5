#include "io/case/metals/material_shelf.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>
#include <stdexcept>

#include "io/case/key_value.h"
#include "io/case/metals/material_schema.h"
#include "io/case/metals/plating.h"
#include "io/case/nearest.h"
#include "solver/material/plated.h"

namespace tabmelt {
namespace {

constexpr std::uintmax_t largest_material_file = 1'000'000;  // [bytes]

// Names become file names: letters, digits, '-' and '_' only.
bool is_plain(const std::string& name) {
  return !name.empty() && name.size() <= 100 && std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  });
}

}  // namespace

std::vector<std::filesystem::path> material_folders(const std::filesystem::path& case_file) {
  std::vector<std::filesystem::path> folders;
  std::error_code error;
  folders.push_back(std::filesystem::absolute(case_file, error).parent_path() / "materials");
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
  if (!error) folders.push_back(program.parent_path().parent_path() / TABMELT_MATERIALS_SUBFOLDER);
  folders.emplace_back(TABMELT_INSTALLED_MATERIALS);
  folders.emplace_back(TABMELT_SOURCE_MATERIALS);
  return folders;
}

MaterialShelf::MaterialShelf(const toml::table* own, const std::filesystem::path& case_file,
                             ComplaintLog& log)
    : MaterialShelf(own, log, material_folders(case_file)) {}

MaterialShelf::MaterialShelf(const toml::table* own, ComplaintLog& log,
                             std::vector<std::filesystem::path> folders)
    : own_(own), folders_(std::move(folders)), log_(log) {}

const toml::table* MaterialShelf::own_table(const std::string& name) const {
  const toml::node* node = own_ ? own_->get(name) : nullptr;
  return node ? node->as_table() : nullptr;
}

const toml::table* MaterialShelf::shipped(const std::string& name) {
  if (!is_plain(name)) return nullptr;
  const auto known = read_.find(name);
  if (known != read_.end()) return known->second;
  const toml::table* table = nullptr;
  if (const std::filesystem::path file = file_of(name, 0); !file.empty()) {
    try {
      documents_.push_back(parsed_toml(text_of(file, largest_material_file), file.string(), log_));
      table = &documents_.back();
      check_property_names(name, *table, log_);
    } catch (const InputError& failure) {
      for (const Complaint& complaint : failure.complaints()) log_.add(complaint);
    }
  }
  read_[name] = table;
  return table;
}

std::filesystem::path MaterialShelf::file_of(const std::string& name,
                                             std::size_t first_folder) const {
  for (std::size_t n = first_folder; n < folders_.size(); ++n) {
    const std::filesystem::path file = folders_[n] / (name + ".toml");
    std::error_code error;
    if (std::filesystem::is_regular_file(file, error)) return file;
  }
  return {};
}

// What stands in place of the shipped material, in words; empty: nothing that differs.
std::string MaterialShelf::replaced(const std::string& name, const Entry& entry) {
  const bool own = own_table(name) != nullptr;
  if (!is_plain(name) || (!own && file_of(name, 0).parent_path() != folders_.front())) return {};
  const std::filesystem::path file = file_of(name, 1);
  if (file.empty()) return {};
  ComplaintLog of_the_shipped;
  toml::table document;
  try {
    document = parsed_toml(text_of(file, largest_material_file), file.string(), of_the_shipped);
  } catch (const InputError&) {
    return {};
  }
  std::set<std::string> properties;
  for (const auto& [property, node] : entry.nodes) properties.insert(property);
  for (const auto& [property, node] : document) properties.insert(std::string(property.str()));
  for (const std::string& property : properties) {
    const auto here = entry.nodes.find(property);
    const toml::node* there = document.get(property);
    const bool both = there && here != entry.nodes.end();
    if (property == "base" || (both && literal(*there) == literal(*here->second))) continue;
    return fmt::format("material \"{}\" {} takes the place of the shipped one, whose {} differs",
                       name, own ? "of the case" : "in " + file_of(name, 0).string(), property);
  }
  return {};
}

std::vector<std::string> MaterialShelf::notices() {
  std::vector<std::string> list;
  for (const auto& [name, entry] : entries_)
    if (std::string one = replaced(name, entry); entry.sound && !one.empty())
      list.push_back(std::move(one));
  return list;
}

std::vector<std::string> MaterialShelf::names() const {
  std::set<std::string> found;
  if (own_)
    for (const auto& [key, node] : *own_) found.insert(std::string(key.str()));
  for (const std::filesystem::path& folder : folders_) {
    std::error_code error;
    for (std::filesystem::directory_iterator entry(folder, error), end; !error && entry != end;
         entry.increment(error))
      if (entry->path().extension() == ".toml") found.insert(entry->path().stem().string());
  }
  return {found.begin(), found.end()};
}

std::optional<PropertyNodes> MaterialShelf::with_base(const std::string& name,
                                                      const toml::table& table,
                                                      std::vector<std::string>& in_progress) {
  PropertyNodes nodes;
  if (const auto base = table["base"].value<std::string>()) {
    const toml::source_region& place = table.get("base")->source();
    in_progress.push_back(name);
    auto below = properties(*base, place.path ? *place.path : "",
                            static_cast<int>(place.begin.line), in_progress);
    in_progress.pop_back();
    if (!below) return std::nullopt;
    nodes = std::move(*below);
  }
  for (const auto& [key, node] : table)
    if (key.str() != "base") nodes[std::string(key.str())] = &node;
  return nodes;
}

std::optional<PropertyNodes> MaterialShelf::properties(const std::string& name,
                                                       const std::string& file, int line,
                                                       std::vector<std::string>& in_progress) {
  // A material of the case may be based on the shipped one of the same name.
  const bool within = std::find(in_progress.begin(), in_progress.end(), name) != in_progress.end();
  const toml::table* table = within ? nullptr : own_table(name);
  if (!table && in_progress.size() <= 10) table = shipped(name);
  if (table) return with_base(name, *table, in_progress);
  if (in_progress.size() > 10) {
    log_.add(file, line,
             fmt::format("the materials {} are based on each other", fmt::join(in_progress, ", ")));
  } else if (within) {
    log_.add(file, line, fmt::format("material \"{}\" is based on itself", name));
  } else {
    const std::vector<std::string> known = names();
    const auto meant = nearest(name, known);
    std::string message = fmt::format("there is no material \"{}\"; ", name);
    if (meant) message += fmt::format("did you mean \"{}\"? ", *meant);
    if (known.empty()) {
      // A program that was moved without its materials.
      std::vector<std::string> looked;
      for (const std::filesystem::path& folder : folders_) looked.push_back(folder.string());
      message += fmt::format(
          "no materials were found at all, neither in the case nor in {}; put those that come with "
          "the program into one of these folders",
          fmt::join(looked, ", "));
    } else {
      message += fmt::format("known are {}", fmt::join(known, ", "));
    }
    log_.add(file, line, message);
  }
  return std::nullopt;
}

MaterialPtr MaterialShelf::find(const std::string& name, const std::string& file, int line) {
  const auto known = entries_.find(name);
  if (known != entries_.end() && known->second.sound) return known->second.material;
  // What is wrong with a material is said once; a name that does not exist, wherever it stands.
  if (known != entries_.end() && !known->second.nodes.empty()) return nullptr;
  Entry entry;
  std::vector<std::string> in_progress;
  if (auto nodes = properties(name, file, line, in_progress)) {
    const toml::table* table = own_table(name);
    if (!table) {
      table = shipped(name);
      entry.file = table->source().path ? *table->source().path : "";
    }
    entry.nodes = std::move(*nodes);
    entry.material = read_material(name, entry.nodes, table->source(), log_);
    if (entry.material && entry.nodes.contains("plating"))
      entry.material = with_plating(name, entry);
    entry.sound = entry.material != nullptr;
  }
  entries_[name] = entry;
  return entry.material;
}

MaterialPtr MaterialShelf::with_plating(const std::string& name, const Entry& core) {
  const toml::node& node = *core.nodes.at("plating");
  const toml::source_region& place = node.source();
  const std::string file = place.path ? *place.path : "";
  const int line = static_cast<int>(place.begin.line);
  const auto plating = read_plating(name, node, log_);
  if (!plating) return nullptr;
  if (std::find(being_plated_.begin(), being_plated_.end(), plating->material) !=
          being_plated_.end() ||
      plating->material == name) {
    log_.add(place, fmt::format("material \"{}\" is plated with itself", name));
    return nullptr;
  }
  if (!being_plated_.empty()) {
    log_.add(place,
             fmt::format("material \"{}\" is the skin of \"{}\" and plated itself; a skin must be "
                         "a plain material",
                         name, being_plated_.back()));
    return nullptr;
  }
  being_plated_.push_back(name);
  const MaterialPtr skin = find(plating->material, file, line);
  being_plated_.pop_back();
  if (!skin) return nullptr;
  try {
    return std::make_shared<const Material>(plated(*core.material, *skin, plating->share));
  } catch (const std::invalid_argument& error) {
    log_.add(place, fmt::format("materials.{}.plating: {}", name, error.what()));
    return nullptr;
  }
}

void MaterialShelf::check_own() {
  if (!own_) return;
  for (const auto& [key, node] : *own_) {
    const std::string name(key.str());
    const toml::table* table = node.as_table();
    if (!table) {
      log_.add(node.source(), fmt::format("materials.{} must be a table of properties", name));
      continue;
    }
    check_property_names(name, *table, log_);
    find(name, node.source().path ? *node.source().path : "",
         static_cast<int>(node.source().begin.line));
  }
}

std::vector<MaterialUsed> MaterialShelf::used() const {
  std::vector<MaterialUsed> list;
  for (const auto& [name, entry] : entries_) {
    if (!entry.sound) continue;
    MaterialUsed one{name, entry.file.empty() ? "the case" : entry.file, {}};
    for (const auto& [property, node] : entry.nodes) {
      // "1.5 GPa" rather than the table with its source around it.
      const toml::table* table = node->as_table();
      const toml::node* value = table ? table->get("value") : nullptr;
      const auto text = value ? value->value<std::string>() : std::nullopt;
      one.properties.push_back({property, text ? *text : literal(*node), false});
    }
    list.push_back(std::move(one));
  }
  return list;
}

std::string MaterialShelf::complete_text() const {
  std::string text;
  for (const auto& [name, entry] : entries_) {
    if (!entry.sound) continue;
    const std::string path = "materials." + (is_plain(name) ? name : quoted(name));
    const auto write_table = [&](const std::string& property, const toml::table& table) {
      text += "[" + path + "." + property + "]\n";
      for (const auto& [key, node] : table)
        text += std::string(key.str()) + " = " + literal(node) + "\n";
    };
    text += "\n[" + path + "]\n";
    if (const auto found = entry.nodes.find("description"); found != entry.nodes.end())
      text += "description = " + literal(*found->second) + "\n";
    // Short properties first: what follows the heading of a property belongs to that property.
    for (const bool in_table : {false, true})
      for (const Property& property : material_properties()) {
        const auto found = entry.nodes.find(property.name);
        if (found == entry.nodes.end()) continue;
        const toml::table* table = found->second->as_table();
        if ((table != nullptr) != in_table) continue;
        if (!table) {
          text += property.name + " = " + literal(*found->second) + "\n";
          continue;
        }
        write_table(property.name, *table);
      }
    if (const auto found = entry.nodes.find("plating"); found != entry.nodes.end())
      write_table("plating", *found->second->as_table());
  }
  return text;
}

}  // namespace tabmelt
