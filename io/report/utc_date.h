// The present moment as ISO 8601 in UTC, "2031-05-04T09:30:00Z".
#pragma once

#include <string>

namespace tabmelt::report {

std::string utc_date();

}  // namespace tabmelt::report
