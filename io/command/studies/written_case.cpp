#include "io/command/studies/written_case.h"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/learnt.h"
#include "io/files/whole_file.h"
#include "io/store/result_writer.h"

namespace tabmelt::command {
namespace {

namespace fs = std::filesystem;

void put(const fs::path& file, const std::string& text) {
  if (const auto reason = failure_to_replace(file, text))
    throw OutputError(file.string() + ": " + *reason);
}

bool knows(const Learnt& learnt, const std::string& key) {
  return std::any_of(learnt.values.begin(), learnt.values.end(),
                     [&](const LearntValue& value) { return value.key == key; });
}

// Settings laid over the case, what was found in their place or besides, and what an earlier file
// knew and these do not.
Learnt whole(const Learnt& found, const std::vector<Override>& settings, const Learnt& earlier) {
  Learnt all;
  all.about = found.about;
  for (const Override& one : settings)
    if (one.key != "learnt" && !knows(found, one.key))
      all.values.push_back({one.key, one.value, "", 0});
  all.values.insert(all.values.end(), found.values.begin(), found.values.end());
  for (const LearntValue& old : earlier.values)
    if (!knows(all, old.key)) all.values.push_back(old);
  if (!earlier.about.empty()) all.about += "; before that " + earlier.about;
  return all;
}

fs::path learnt_beside(const fs::path& file) {
  return file.parent_path() / (file.stem().string() + ".learnt.toml");
}

}  // namespace

void refuse_to_replace(const fs::path& file, const std::string& asked_case) {
  std::error_code ignored;
  if (file.filename().empty() || fs::is_directory(file, ignored))
    throw InputError({{file.string(), 0, "", "--write needs the name of a file"}});
  for (const fs::path& one : {file, learnt_beside(file)})
    if (fs::exists(one, ignored))
      throw InputError({{one.string(), 0, "",
                         "is there already; --write replaces no file, choose another name"}});
  if (asked_case == "-")
    throw InputError({{"", 0, "", "--write needs a case from a file, not standard input"}});
}

void write_learnt_case(Session& session, const fs::path& file, const Learnt& found) {
  if (!session.speaks()) return;
  const StudiedCase& asked = session.study().asked();
  const Learnt learnt = whole(found, asked.settings, session.study().base().learnt);
  if (learnt.values.empty())
    return session.say("  nothing was found that is worth writing: no file was written\n");
  const fs::path beside = learnt_beside(file);
  put(beside, "# Written by tabmelt; a case takes it with learnt = \"" +
                  beside.filename().string() + "\" at its top.\n" + learnt_text(learnt));
  const std::string text = taking_learnt(asked.text, beside.filename().string());
  // A case that names files beside it may not find them from elsewhere.
  read_case_text(text, file);
  put(file, text);
  session.say(fmt::format("  the case with what was learnt is {}, values and spreads are in {}\n",
                          file.string(), beside.string()));
}

}  // namespace tabmelt::command
