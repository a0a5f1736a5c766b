#include "picture/image.h"
