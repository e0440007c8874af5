#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <set>
#include <stdexcept>
#include <string>

#include "io/case/units.h"
#include "io/command/commands.h"
#include "io/command/drawing.h"
#include "io/command/result_argument.h"
#include "io/command/say.h"
#include "io/command/temperature_range.h"
#include "io/store/result_reader.h"
#include "solver/words/in_words.h"

namespace tabmelt::command {
namespace fs = std::filesystem;

namespace {

using pictures::instant_pictures, pictures::picture_names;
using pictures::largest_picture_width, pictures::smallest_picture_width;

// A choice on the command line that makes no sense, in words.
class WrongChoice : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

std::vector<std::string> names_in(const std::string& list) {
  std::vector<std::string> names;
  for (std::size_t from = 0; from <= list.size();) {
    const std::size_t comma = std::min(list.find(',', from), list.size());
    const std::string name = list.substr(from, comma - from);
    if (std::find(picture_names.begin(), picture_names.end(), name) == picture_names.end()) {
      throw WrongChoice(fmt::format("--only: there is no picture \"{}\"; there are {}", name,
                                    fmt::join(picture_names, ", ")));
    }
    names.push_back(name);
    from = comma + 1;
  }
  return names;
}

double moment_in(const std::string& text) {
  try {
    return units::in_si(text, "ms");
  } catch (const units::UnitError& error) {
    throw WrongChoice(fmt::format("--at: \"{}\" {}", text, error.what()));
  }
}

pictures::TemperatureRange range_in(const std::string& text) {
  try {
    return temperature_range_in(text);
  } catch (const std::invalid_argument& error) {
    throw WrongChoice(error.what());
  }
}

pictures::PictureChoice choice_in(const PictureOptions& options) {
  pictures::PictureChoice choice;
  if (options.only) choice.only = names_in(*options.only);
  if (options.moment) {
    choice.time = moment_in(*options.moment);
    const auto shows_a_moment = [](const std::string& name) {
      return std::find(instant_pictures.begin(), instant_pictures.end(), name) !=
             instant_pictures.end();
    };
    if (!choice.only.empty() &&
        std::none_of(choice.only.begin(), choice.only.end(), shows_a_moment)) {
      throw WrongChoice(fmt::format("--at is the moment of {}, which --only leaves out",
                                    fmt::join(instant_pictures, " and ")));
    }
  }
  if (options.range) choice.range = range_in(*options.range);
  if (options.width) choice.width = *options.width;
  if (choice.width < smallest_picture_width || choice.width > largest_picture_width) {
    throw WrongChoice(fmt::format("--width: {} is not within {} to {} pixels", choice.width,
                                  smallest_picture_width, largest_picture_width));
  }
  if (options.format) choice.format = *options.format;
  return choice;
}

void require_moment_within(const fs::path& file, double time) {
  const std::vector<double> times = read_result_file(file).frame_times;
  if (times.empty()) {
    throw WrongChoice(fmt::format("--at: {} holds no moments to draw", file.string()));
  }
  // The last digit of a time in milliseconds may differ from that of the stored one.
  const double slack = 1e-9 * times.back();
  if (time < times.front() - slack || time > times.back() + slack) {
    throw WrongChoice(fmt::format(
        "--at: {} is outside the moments of {}, {} to {}", in_words::duration(time), file.string(),
        in_words::duration(times.front()), in_words::duration(times.back())));
  }
}

// Nothing is drawn of a file that holds a moment no picture can show.
void require_sound(const fs::path& file) {
  const StoredRun run = read_result_file(file);
  for (std::size_t k = 0; k < run.frame_times.size(); ++k) run.frame(k);
}

ExitStatus drawn(const PictureOptions& options) {
  // Before anything is drawn, so that a slip of the keyboard leaves no half of the pictures.
  const pictures::PictureChoice choice = choice_in(options);
  if (choice.time) {
    for (const std::string& named : options.results) {
      require_moment_within(result_file(named), *choice.time);
    }
  }
  for (const std::string& named : options.results) require_sound(result_file(named));
  std::set<fs::path> used;
  for (const std::string& named : options.results) {
    const fs::path file = result_file(named);
    const fs::path beside = fs::absolute(file).lexically_normal().parent_path();
    fs::path folder = file.parent_path();
    if (options.folder) folder = *options.folder;
    if (options.folder && options.results.size() > 1) folder /= beside.filename();
    if (!used.insert(folder).second) {
      throw DrawingError(fmt::format("two results would be drawn into {}", folder.string()));
    }
    std::vector<fs::path> files;
    if (options.animation || options.frames) {
      files = animate_result(file, folder, options.frames ? Animation::frames : Animation::movie,
                             choice.range);
    } else {
      files = draw_result(file, folder, choice);
      // The report shows the pictures beside it.
      std::error_code ignored;
      if (fs::equivalent(folder.empty() ? "." : folder, beside, ignored)) {
        put_into_report(beside, files);
      }
    }
    for (const fs::path& picture_file : files) say(stdout, picture_file.string() + "\n");
  }
  return ExitStatus::fine;
}

}  // namespace

ExitStatus picture(const PictureOptions& options) {
  try {
    return drawn(options);
  } catch (const WrongChoice& error) {
    say(stderr, fmt::format("tabmelt: {}\n", error.what()));
    return ExitStatus::wrong_input;
  }
}

}  // namespace tabmelt::command
