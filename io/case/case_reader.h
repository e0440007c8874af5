// Walks through a parsed case with the list of keys: values, defaults, complaints, complete text.
#pragma once

#include <toml++/toml.h>

#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "io/case/complaint_log.h"
#include "io/case/full_text.h"
#include "io/case/metals/material_shelf.h"
#include "io/case/read_case.h"
#include "io/case/schema.h"

namespace tabmelt {

class CaseReader {
 public:
  CaseReader(const toml::table& root, const std::filesystem::path& file, ComplaintLog& log);

  // Throws InputError with every complaint.
  Case read();

 private:
  using Nodes = std::map<std::string, const toml::node*>;

  // Sorts the values of a table by key; complains about unknown ones.
  void collect(const toml::table& table, const std::string& section, Nodes& into);
  void read_given(const std::vector<Key>& keys, const Nodes& nodes);
  void fill_in(const std::vector<Key>& keys, const Nodes& nodes, const toml::node* section,
               const std::string& label);
  std::optional<Standard> standard_of(const Key& key) const;
  void take(const Key& key, Value value, const toml::node* place);
  void read_source_file(const Nodes& nodes);
  // [[strip]], [[layer]], ...; the keys set the last of the entries.
  template <typename Entry>
  void read_entries(const std::string& list_name, const std::vector<Key>& keys,
                    std::vector<Entry>& entries);
  // [strip] or [[strip]].
  void read_strips();
  void preset_layers();
  void read_spreads(const toml::table& table, const std::string& path);
  const toml::array* tables_of(const std::string& name);
  void check_together();
  std::vector<std::string> draft_complaints() const;
  void attach(const std::string& complaint);
  int line_of(const std::string& key) const;

  const toml::table& root_;
  std::filesystem::path file_;
  ComplaintLog& log_;
  MaterialShelf shelf_;
  Draft draft_;
  Nodes nodes_;                   // keys and tables that are given, "layer 1", "probe 1"
  std::set<std::string> broken_;  // keys whose value could not be used
  std::vector<DefaultUsed> defaults_;
  std::vector<GivenSpread> spreads_;
  FullText full_text_;
};

}  // namespace tabmelt
