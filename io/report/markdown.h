// A document as Markdown that is also readable as plain text.
#pragma once

#include <string>

#include "io/report/document.h"

namespace tabmelt::report {

std::string markdown_text(const Document&);

}  // namespace tabmelt::report
