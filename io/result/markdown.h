// A document as Markdown that is also readable as plain text.
#pragma once

#include <string>

#include "io/result/document.h"

namespace tabmelt {

std::string markdown_text(const Document&);

}  // namespace tabmelt
