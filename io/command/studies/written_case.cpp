#include "io/command/studies/written_case.h"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/learnt.h"
#include "io/store/result_writer.h"
#include "io/store/whole_file.h"

namespace tabmelt::command {
namespace {

namespace fs = std::filesystem;

void put(const fs::path& file, const std::string& text) {
  if (const auto reason = failure_to_replace(file, text))
    throw OutputError(file.string() + ": " + *reason);
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

Learnt with_earlier(Learnt learnt, const Learnt& earlier) {
  for (const LearntValue& old : earlier.values)
    if (std::none_of(learnt.values.begin(), learnt.values.end(),
                     [&](const LearntValue& v) { return v.key == old.key; }))
      learnt.values.push_back(old);
  if (!earlier.about.empty()) learnt.about += "; before that " + earlier.about;
  return learnt;
}

void write_learnt_case(Session& session, const fs::path& file, Learnt learnt) {
  if (!session.speaks()) return;
  learnt = with_earlier(std::move(learnt), session.study().base().learnt);
  if (learnt.values.empty())
    return session.say("  nothing was found that is worth writing: no file was written\n");
  const fs::path beside = learnt_beside(file);
  put(beside, "# Written by tabmelt; a case takes it with learnt = \"" +
                  beside.filename().string() + "\" at its top.\n" + learnt_text(learnt));
  const std::string text = taking_learnt(session.asked().text, beside.filename().string());
  // A case that names files beside it may not find them from elsewhere.
  read_case_text(text, file);
  put(file, text);
  session.say(fmt::format("  the case with what was learnt is {}, values and spreads are in {}\n",
                          file.string(), beside.string()));
}

}  // namespace tabmelt::command
