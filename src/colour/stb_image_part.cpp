// The one place where the body of the picture decoder is compiled.
#include <cstdlib>

// What a damaged file leaves unset is zero and not what lay in memory before, so that it looks the same each
// time, and tables that it never defined hold no codes.
#define STBI_MALLOC(size) std::calloc(1, size)
#define STBI_REALLOC(block, size) std::realloc(block, size)
#define STBI_FREE(block) std::free(block)
#define STB_IMAGE_IMPLEMENTATION
#define STBI_ONLY_JPEG
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#define STBI_NO_FAILURE_STRINGS
#include <stb_image.h>
