#include "io/command/failure.h"

#include <fmt/format.h>

#include <exception>
#include <new>

#include "io/command/drawing.h"
#include "io/store/result_reader.h"
#include "io/store/result_writer.h"

namespace tabmelt::command {

std::string complaints_text(const std::vector<Complaint>& complaints) {
  std::string text;
  for (const Complaint& complaint : complaints) {
    if (!complaint.file.empty()) text += complaint.file + ":";
    if (complaint.line > 0) text += fmt::format("{}:", complaint.line);
    if (!text.empty() && text.back() == ':') text += " ";
    text += complaint.message + "\n";
    if (!complaint.excerpt.empty()) text += fmt::format("    {}\n", complaint.excerpt);
  }
  return text;
}

std::string words(const InputError& error) {
  const std::string text = complaints_text(error.complaints());
  const std::size_t count = error.complaints().size();
  return text + fmt::format("tabmelt: {} complaint{}; nothing was computed\n", count,
                            count == 1 ? "" : "s");
}

Failure current_failure() {
  try {
    throw;
  } catch (const InputError& error) {
    return {ExitStatus::wrong_input, words(error)};
  } catch (const LostOutputError& error) {
    return {ExitStatus::unfinished, fmt::format("tabmelt: {}\n", error.what())};
  } catch (const OutputError& error) {
    return {ExitStatus::wrong_input, fmt::format("tabmelt: {}\n", error.what())};
  } catch (const ResultFileError& error) {
    return {ExitStatus::wrong_input, fmt::format("tabmelt: {}\n", error.what())};
  } catch (const NoWindowError& error) {
    return {ExitStatus::unfinished, fmt::format("tabmelt: {}\n", error.what())};
  } catch (const DrawingError& error) {
    return {ExitStatus::unfinished, fmt::format("tabmelt: {}\n", error.what())};
  } catch (const std::bad_alloc&) {
    return {ExitStatus::unfinished, "tabmelt: not enough memory; a lower resolution needs less\n"};
  } catch (const std::exception& error) {
    return {ExitStatus::own_bug,
            fmt::format("tabmelt: internal error, please report it with the case file: {}\n",
                        error.what())};
  } catch (...) {
    return {ExitStatus::own_bug,
            "tabmelt: internal error of unknown kind, please report it with the case file\n"};
  }
}

}  // namespace tabmelt::command
