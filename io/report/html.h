// A document as one HTML page that needs nothing else: its style is inside, it runs no scripts and
// fetches nothing. Readable in light and dark, wide and narrow, and short enough in print to fit
// two pages.
#pragma once

#include <string>

#include "io/report/document.h"

namespace tabmelt::report {

// The page; `pictures` is HTML that stands between the verdict and the sections as it is.
std::string html_text(const Document&, const std::string& pictures);

// Safe as text and inside a quoted attribute.
std::string html_escaped(const std::string& words);

}  // namespace tabmelt::report
