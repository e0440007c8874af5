// Overrides and the entries of lists in a parsed case: how io/case/overrides.cpp changes a case.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <vector>

#include "io/case/complaint_log.h"
#include "io/case/overrides.h"

namespace tabmelt {

using PathParts = std::vector<std::string>;
PathParts parts_of(const std::string& path);

// 0 if it is no whole number from 1.
int ordinal(const std::string& text);

// Of a list of tables: the names, empty where there is none.
std::vector<std::string> entry_names(const toml::array& list);
// By number, by whole name, or by a word that only one name has.
std::optional<std::size_t> entry_in(const toml::array& list, const std::string& entry);

// Complaints name `origin` as their file and the place in the list as line.
void lay_over(toml::table& root, const std::vector<Override>&, const std::string& origin,
              ComplaintLog&);

bool touches_layers(const std::vector<Override>&);

}  // namespace tabmelt
