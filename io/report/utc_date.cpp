#include "io/report/utc_date.h"

#include <fmt/chrono.h>

#include <ctime>

namespace tabmelt::report {

std::string utc_date() {
  return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)));
}

}  // namespace tabmelt::report
