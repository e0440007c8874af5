// How the HTML report looks.
#pragma once

namespace tabmelt::report {

// CSS: one column of sections, tables that become cards on narrow screens, dark colours where the
// reader's system asks for them, and a small two-page version in print that leaves out what the
// document marks as detail.
const char* html_style();

}  // namespace tabmelt::report
