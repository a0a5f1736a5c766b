#include "batter/rheology.h"
