#include "flow/flow.h"
