// A design that travels inside a picture of itself, with the colourants it uses and how it was looked at: so
// that whoever gets the picture can open it and draw the same pixels again.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "colour/pigment.h"
#include "design/design.h"
#include "flow/flow.h"

namespace foreslice::design {

/// What the picture shows of the design.
struct View {
    int bar = 1;                                         ///< 1-based
    double px_per_mm = 8;                                ///< 0.5..60
    bool poured = false;                                 ///< the layers before the wire, not the drawn face
    bool plain = false;                                  ///< the bare face without title and legend
    int cells_across = flow::Resolution{}.cells_across;  ///< 16..1024
    friend bool operator==(const View&, const View&) = default;
};

/// A design as it was opened, from a design file or out of a picture.
struct OpenedDesign {
    Design design;
    /// The base and the colourants that the sender's library had for this design; empty for a design file.
    std::optional<colour::ColourantLibrary> colourants;
    std::optional<View> view;
    bool from_picture = false;  ///< saving must not write over the picture
};

/// The keyword of the text in the PNG.
inline constexpr std::string_view picture_keyword = "Foreslice design";

/// The picture with the design in it. Throws InputError when the design does not fit (limits::file_bytes).
std::string with_design(std::string_view png, const Design& design, const colour::ColourantLibrary& library,
                        const std::optional<View>& view);

/// Throws InputError (file, place, cause) for a picture without a design and for whatever is wrong with it.
OpenedDesign design_in_picture(std::string_view png, const std::string& file);

/// Whether a file begins as a PNG picture does; false when it cannot be read.
bool is_picture(const std::filesystem::path& path);

/// Whether a file is a PNG that carries a design, sound or not; reads no more of it than the headings.
bool carries_design(const std::filesystem::path& path);

/// Loads a design file, or the design that a PNG carries.
OpenedDesign open_design(const std::filesystem::path& path);

/// `own` with the base and the entries of `sent` in their places: what draws the sender's colours.
colour::ColourantLibrary with_sent(const colour::ColourantLibrary& own, const colour::ColourantLibrary& sent);

}  // namespace foreslice::design
