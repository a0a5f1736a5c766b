// Whatever somebody sends: a design comes out of the picture, or an InputError; nothing else.
#include <cstdint>
#include <string>

#include "design/collection.h"
#include "design/made.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "foundation/png_text.h"
#include "png_file.h"

using namespace foreslice;

namespace {

template <typename Read>
void digest(const Read& read) {
    try {
        read();
    } catch (const InputError&) {  // the sentence for the sender
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const std::string picture = testing::png_by_libpng();
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    digest([&] { design::design_in_picture(bytes, "fuzz"); });
    digest(
        [&] { design::design_in_picture(with_png_text(picture, design::picture_keyword, bytes), "fuzz"); });
    digest([&] { design::parse_collection(bytes, "fuzz"); });
    digest([&] { design::parse_made(bytes, "fuzz"); });
    return 0;
}
