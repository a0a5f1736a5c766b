#include "design/identity.h"

#include "design/design_file.h"
#include "foundation/content_key.h"

namespace foreslice::design {

std::string identity_code(const Design& design) {
    constexpr std::string_view letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    std::uint64_t bits = ContentKey().add(to_json(design)).value();
    std::string code;
    for (int i = 0; i < 13; ++i, bits >>= 5U) {
        if (i == 5 || i == 10) code += '-';
        code += letters[bits & 31U];
    }
    return "FS-" + code;
}

}  // namespace foreslice::design
