// Prints the table of agreement.
#include <cstdio>

#include "tests/agreement/row.h"

int main() {
  std::fputs(tabmelt::agreement::document(tabmelt::agreement::all_sections()).c_str(), stdout);
  return 0;
}
