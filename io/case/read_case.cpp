#include "io/case/read_case.h"
