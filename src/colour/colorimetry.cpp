#include "colour/colorimetry.h"
