// A case file to a Case, or every complaint about it at once.
//
// Case files are TOML; each quantity is a string with its unit ("4.7 mF", "0.15 mm"), checked for
// dimension through UDUNITS-2. io/case/schema.h lists every key once.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "io/case/complaint.h"
#include "solver/problem/problem.h"

namespace tabmelt {

struct DefaultUsed {
  std::string key;     // "strip.width"
  std::string value;   // "8 mm"
  std::string reason;  // source, or "common practice, no source"
};

// A key of the case as it was computed with.
struct InputValue {
  std::string key;    // "pressing.force"; entries of lists by number, "layer.1.thickness"
  std::string value;  // as a case file would have it, without quotes: "30 N"
  bool is_default = false;
};

struct MaterialUsed {
  std::string name;
  std::string file;                    // where it was read; "the case" if it stands there
  std::vector<InputValue> properties;  // complete, those of its base included
};

// `spread.<key>` of a case; what it says is read by io/case/spreads.h.
struct GivenSpread {
  std::string key;   // "pressing.force"
  std::string text;  // "20 %"
  int line = 0;
  std::string learnt = {};  // what it was learnt from; empty: the case says so itself
};

// What a case takes from the file that `learnt` names (io/case/learnt.h).
struct LearntValue {
  std::string key, value, spread;  // spread may be empty
  int line = 0;
};
struct Learnt {
  std::string file;   // empty: the case takes none
  std::string about;  // what it was learnt from
  std::vector<LearntValue> values;
};

struct Case {
  Problem problem;
  std::string title;
  std::filesystem::path file;
  std::string text;       // as read
  std::string full_text;  // every key with its value, defaults filled in
  std::vector<DefaultUsed> defaults;
  std::vector<std::string> notices;     // what a person should know, such as a replaced material
  std::vector<InputValue> inputs;       // every key with a value, in the order of full_text
  std::vector<MaterialUsed> materials;  // by name
  std::vector<GivenSpread> spreads;     // not part of full_text: they do not change the problem
  Learnt learnt;
};

// Throws InputError. Materials are looked up inside the case, then as <name>.toml in a folder
// `materials` beside the case file, then in the folder shipped with the program.
Case read_case(const std::filesystem::path& file);
Case read_case_text(const std::string& text, const std::filesystem::path& named);
// The text of a case file, and a complaint if a text is too large for one. Both throw InputError.
std::string case_file_text(const std::filesystem::path& file);
void require_case_size(const std::string& text, const std::filesystem::path& named);

}  // namespace tabmelt
