// One TOML value checked against its key, and defaults in the form a user would have typed.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>

#include "io/case/complaint_log.h"
#include "io/case/schema.h"

namespace tabmelt {

// Nothing after a complaint. Materials and files are not looked up: their name is in Value::text.
std::optional<Value> checked_value(const Key& key, const toml::node& node, ComplaintLog& log);

// A default of the schema; throws std::logic_error if the schema contradicts itself.
Value standard_value(const Key& key, const std::string& text);

// As it stands in a TOML file.
std::string literal(const toml::node& node);
std::string quoted(const std::string& text);
std::string standard_literal(const Key& key, const std::string& text);

}  // namespace tabmelt
