// A measured current from a text file in columns: the first line names the columns with their
// units, e.g. `time [ms],current [A]`; columns are divided by commas, semicolons or tabs, further
// columns are left alone, lines that start with # are remarks.
#pragma once

#include <filesystem>

#include "io/case/complaint_log.h"
#include "solver/circuit/circuit.h"

namespace tabmelt {

// Adds complaints to the log and returns what could be read. Throws InputError if the file is
// missing, a folder, or over 20 MB.
circuit::TableCurrent current_trace(const std::filesystem::path& file, ComplaintLog& log);

}  // namespace tabmelt
