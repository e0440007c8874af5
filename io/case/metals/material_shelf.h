// Finds materials by name: in the case itself, then as <name>.toml in a folder `materials` beside
// the case file, then in the folder shipped with the program; nowhere else, so that nobody else's
// file decides a weld.
#pragma once

#include <toml++/toml.h>

#include <deque>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "io/case/complaint_log.h"
#include "io/case/metals/material_reader.h"
#include "io/case/read_case.h"
#include "solver/problem/problem.h"

namespace tabmelt {

class MaterialShelf {
 public:
  // `own`: the table [materials] of the case, may be null; must outlive the shelf.
  MaterialShelf(const toml::table* own, const std::filesystem::path& case_file, ComplaintLog& log);
  // The same with the folders to search, nearest first.
  MaterialShelf(const toml::table* own, ComplaintLog& log,
                std::vector<std::filesystem::path> folders);

  // Null after a complaint at the place where the name stands.
  MaterialPtr find(const std::string& name, const std::string& file, int line);
  // Reads every material of the case, so that those not used are checked too.
  void check_own();
  // All materials found so far, by name.
  std::vector<MaterialUsed> used() const;
  // All materials found so far as TOML, complete, to be put into a case.
  std::string complete_text() const;
  // Which materials that were found stand in place of shipped ones with other properties.
  std::vector<std::string> notices();

 private:
  struct Entry {
    MaterialPtr material;
    PropertyNodes nodes;
    std::string file = "";  // where it stands; empty: in the case
    bool sound = false;
  };

  // The properties of a material with those of its base below; nothing after a complaint.
  std::optional<PropertyNodes> properties(const std::string& name, const std::string& file,
                                          int line, std::vector<std::string>& in_progress);
  std::optional<PropertyNodes> with_base(const std::string& name, const toml::table& table,
                                         std::vector<std::string>& in_progress);
  const toml::table* shipped(const std::string& name);
  std::filesystem::path file_of(const std::string& name, std::size_t first_folder) const;
  std::string replaced(const std::string& name, const Entry&);
  const toml::table* own_table(const std::string& name) const;
  std::vector<std::string> names() const;
  // The material with the skin that its entry names; null after a complaint.
  MaterialPtr with_plating(const std::string& name, const Entry& core);

  const toml::table* own_;
  std::vector<std::filesystem::path> folders_;
  ComplaintLog& log_;
  std::deque<toml::table> documents_;  // kept: entries point into them
  std::map<std::string, const toml::table*> read_;
  std::map<std::string, Entry> entries_;
  std::vector<std::string> being_plated_;
};

// Folders searched for a case, nearest first; some may not exist.
std::vector<std::filesystem::path> material_folders(const std::filesystem::path& case_file);

}  // namespace tabmelt
