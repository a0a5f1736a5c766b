#include "picture/likeness.h"

#include <algorithm>

namespace foreslice::picture {

namespace {

// Gives up once there are more groups than wanted.
AlikeGroups grouped_within(const std::vector<const FaceSignature*>& faces, double reach_de00,
                           std::size_t most) {
    AlikeGroups result;
    result.reach_de00 = reach_de00;
    for (std::size_t face = 0; face < faces.size() && result.groups.size() <= most; ++face) {
        const auto home = std::find_if(result.groups.begin(), result.groups.end(), [&](const auto& group) {
            return unlike_de00(*faces[group.front()], *faces[face]) <= reach_de00;
        });
        if (home == result.groups.end())
            result.groups.push_back({face});
        else
            home->push_back(face);
    }
    return result;
}

}  // namespace

FaceSignature signature_of(const Coverage& coverage, const std::vector<colour::PortionColour>& colours) {
    const auto width = static_cast<std::size_t>(coverage.width_px);
    const auto height = static_cast<std::size_t>(coverage.height_px);
    const auto kinds = static_cast<std::size_t>(coverage.portions);
    std::vector<std::uint64_t> sums(std::tuple_size_v<FaceSignature> * kinds);
    for (std::size_t y = 0; y < height; ++y)
        for (std::size_t x = 0; x < width; ++x) {
            const std::size_t field =
                y * signature_rows / height * signature_columns + x * signature_columns / width;
            const std::uint8_t* share = &coverage.share[(y * width + x) * kinds];
            for (std::size_t kind = 0; kind < kinds; ++kind) sums[field * kinds + kind] += share[kind];
        }
    FaceSignature signature{};
    const auto white = colour::white_of(colour::Illuminant::d65);
    for (std::size_t field = 0; field < signature.size(); ++field) {
        colour::LinearSrgb light;
        double all = 0;
        for (std::size_t kind = 0; kind < kinds; ++kind) {
            const auto weight = static_cast<double>(sums[field * kinds + kind]);
            light.r += weight * colours[kind].linear.r;
            light.g += weight * colours[kind].linear.g;
            light.b += weight * colours[kind].linear.b;
            all += weight;
        }
        if (all > 0) light = {light.r / all, light.g / all, light.b / all};
        signature[field] = colour::lab_of(colour::xyz_of(light), white);
    }
    return signature;
}

double unlike_de00(const FaceSignature& a, const FaceSignature& b) {
    double sum = 0;
    for (std::size_t field = 0; field < a.size(); ++field) sum += colour::ciede2000(a[field], b[field]);
    return sum / static_cast<double>(a.size());
}

AlikeGroups grouped(const std::vector<const FaceSignature*>& faces, double reach_de00,
                    std::size_t most_groups) {
    const std::size_t most = std::max<std::size_t>(1, most_groups);
    AlikeGroups result = grouped_within(faces, reach_de00, most);
    if (result.groups.size() <= most) return result;
    double short_of_it = reach_de00;
    while (result.groups.size() > most) {
        short_of_it = result.reach_de00;
        result = grouped_within(faces, std::max(0.5, 1.25 * short_of_it), most);
    }
    for (int halving = 0; halving < 5; ++halving) {
        const double middle = 0.5 * (short_of_it + result.reach_de00);
        auto closer = grouped_within(faces, middle, most);
        if (closer.groups.size() <= most)
            result = std::move(closer);
        else
            short_of_it = middle;
    }
    return result;
}

}  // namespace foreslice::picture
