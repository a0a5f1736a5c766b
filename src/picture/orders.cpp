#include "picture/orders.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <sstream>

#include "design/validation.h"
#include "foundation/error.h"
#include "picture/layers.h"
#include "picture/section.h"
#include "picture/section_coverage.h"

namespace foreslice::picture {
namespace {

// What a quarter of a minute gives.
constexpr std::size_t most_stacks = 720, most_sections = 60;
constexpr const char* aims_in_words = "contrast, clean, accent, share:PORTION, kin or apart";

OrderAim aim_of(const std::string& word) {
    const std::vector<std::pair<const char*, OrderAim>> aims{{"contrast", OrderAim::contrast},
                                                             {"clean", OrderAim::clean},
                                                             {"accent", OrderAim::accent},
                                                             {"kin", OrderAim::kin},
                                                             {"apart", OrderAim::apart}};
    for (const auto& [name, aim] : aims)
        if (word == name) return aim;
    throw InputError("", "rank", "orders cannot be ranked by " + foreslice::quoted(word), aims_in_words);
}

double weight_of(const std::string& text) {
    char* end = nullptr;
    const double weight = std::strtod(text.c_str(), &end);
    if (text.empty() || *end != '\0' || !(std::abs(weight) <= 1000))
        throw InputError("", "rank", foreslice::quoted(text) + " is no weight",
                         "a number from -1000 to 1000");
    return weight;
}

std::size_t index_of(const design::Design& design, const std::string& portion) {
    std::string ids;
    for (std::size_t i = 0; i < design.portions.size(); ++i) {
        if (design.portions[i].id == portion) return i;
        ids += (i == 0 ? "" : ", ") + design.portions[i].id;
    }
    throw InputError("", "portion", foreslice::quoted(portion) + " is no portion of this design", ids);
}

// Draws and looks at orders of one design from one flow.
class OrderLook {
  public:
    OrderLook(FaceMaker& maker, const design::Design& design, const OrdersRequest& request,
              Progress& progress)
        : design_(design),
          request_(request),
          layers_(design),
          pool_(maker.pool()),
          progress_(progress),
          colours_(material_colours(design, maker.colour_library())),
          contrasts_(contrasts_of(colours_)),
          z_mm_(design::bar_face_z_mm(design, request.bar)),
          accent_(request.accent.empty() ? accent_of(design, maker.colour_library()) : request.accent) {
        accent_index_ = index_of(design, accent_);
        face_.bar = request.bar;
        face_.resolution = request.resolution;
        face_.px_per_mm = request.width_px / design::box_of(design).width_mm;
        origins_ = maker.origins(design, face_, progress);
        if (origins_) solve_ = maker.flow_map(design, face_, progress)->report();
    }

    RankedOrders ranked() {
        if (layers_.orders() < 2)
            throw InputError("", "/pours", "there is only one order of these layers",
                             "at least two layers that differ");
        std::vector<RankedOrder> seen;
        std::vector<Norm> norms;  // of the first look, so that later ones can be compared with it
        const auto search = design::search_orders(
            layers_, most_orders(), request_.seed, [&](const std::vector<design::LayerOrder>& orders) {
                look(orders, seen);
                if (norms.empty()) norms = norms_of(seen);
                return scores_of(seen, seen.size() - orders.size(), norms);
            });
        const auto scores = scores_of(seen, 0, norms_of(seen));
        for (std::size_t i = 0; i < seen.size(); ++i) seen[i].score = scores[i];
        RankedOrders out;
        out.how = search.how;
        out.accent = accent_;
        out.solve = solve_;
        out.orders = std::move(seen);
        std::stable_sort(out.orders.begin(), out.orders.end(),
                         [](const auto& a, const auto& b) { return a.score > b.score; });
        group(out);
        return out;
    }

  private:
    std::size_t most_orders() const {
        if (request_.most_orders > 0) return request_.most_orders;
        return needs_section(design_) ? most_sections : most_stacks;
    }

    void look(const std::vector<design::LayerOrder>& orders, std::vector<RankedOrder>& seen) {
        const std::size_t first = seen.size();
        seen.resize(first + orders.size());
        progress_.begin_stage("trying orders", static_cast<std::int64_t>(orders.size()));
        pool_.parallel_for(orders.size(), [&](std::size_t i) {
            RankedOrder& one = seen[first + i];
            one.order = orders[i];
            one.glance = glance_at(coverage_of(layers_.in_order(orders[i])), colours_, contrasts_);
            one.accent_percent = one.glance.plain_percent[accent_index_];
            one.nearest_de00 = nearest(one.glance.signature);
            one.words = design::words_of(orders[i], layers_, accent_);
            one.stack = design::stack_words(orders[i], layers_);
            progress_.advance();
        });
    }

    Coverage coverage_of(const design::Design& ordered) const {
        Progress quiet;
        const int kinds = static_cast<int>(colours_.size());
        if (!needs_section(ordered)) {
            const LayerStack stack(ordered, z_mm_);
            return origins_ ? carried_coverage(stack, kinds, *origins_, pool_, quiet)
                            : poured_coverage(stack, kinds, face_.px_per_mm, pool_, quiet);
        }
        const Section section = poured_section(ordered, z_mm_, {});
        return origins_ ? section_coverage(section, kinds, *origins_, pool_, quiet)
                        : section_coverage(section, kinds, face_.px_per_mm, 4, pool_, quiet);
    }

    double nearest(const FaceSignature& face) const {
        double nearest_de00 = request_.collection.empty() ? 0 : 1e9;
        for (const auto& other : request_.collection)
            nearest_de00 = std::min(nearest_de00, unlike_de00(face, other));
        return nearest_de00;
    }

    double value_of(const RankedOrder& order, const WeightedAim& aim) const {
        switch (aim.aim) {
            case OrderAim::contrast:
                return order.glance.contrast_de00;
            case OrderAim::clean:
                return -order.glance.muddy_percent;
            case OrderAim::accent:
                return order.accent_percent;
            case OrderAim::share:
                return order.glance.face_percent[index_of(design_, aim.portion)];
            case OrderAim::kin:
                return -order.nearest_de00;
            case OrderAim::apart:
                return order.nearest_de00;
        }
        return 0;
    }

    // Mean and standard deviation of each aim.
    struct Norm {
        double mean = 0, deviation = 0;
    };
    std::vector<Norm> norms_of(const std::vector<RankedOrder>& seen) const {
        std::vector<Norm> norms;
        const auto count = static_cast<double>(seen.size());
        for (const auto& aim : request_.aims) {
            double sum = 0, squares = 0;
            for (const auto& order : seen) sum += value_of(order, aim);
            for (const auto& order : seen) squares += std::pow(value_of(order, aim) - sum / count, 2);
            norms.push_back({sum / count, std::sqrt(squares / count)});
        }
        return norms;
    }

    // Of the orders from `first` on.
    std::vector<double> scores_of(const std::vector<RankedOrder>& seen, std::size_t first,
                                  const std::vector<Norm>& norms) const {
        std::vector<double> scores(seen.size() - first, 0.0);
        for (std::size_t aim = 0; aim < norms.size(); ++aim) {
            if (norms[aim].deviation < 1e-9) continue;
            for (std::size_t i = 0; i < scores.size(); ++i)
                scores[i] += request_.aims[aim].weight *
                             (value_of(seen[first + i], request_.aims[aim]) - norms[aim].mean) /
                             norms[aim].deviation;
        }
        return scores;
    }

    void group(RankedOrders& out) const {
        std::vector<const FaceSignature*> faces;
        for (const auto& order : out.orders) faces.push_back(&order.glance.signature);
        auto groups = grouped(faces, request_.alike_de00, request_.most_groups);
        out.groups = std::move(groups.groups);
        out.reach_de00 = groups.reach_de00;
    }

    const design::Design& design_;
    const OrdersRequest& request_;
    design::Layers layers_;
    WorkerPool& pool_;
    Progress& progress_;
    std::vector<colour::PortionColour> colours_;
    std::vector<double> contrasts_;
    double z_mm_;
    std::string accent_;
    std::size_t accent_index_ = 0;
    FaceRequest face_;
    std::shared_ptr<const flow::OriginRaster> origins_;
    flow::SolveReport solve_;
};

}  // namespace

std::vector<WeightedAim> aims_from(const std::string& text, const design::Design& design) {
    std::vector<WeightedAim> aims;
    std::stringstream in(text);
    for (std::string part; std::getline(in, part, ',');) {
        WeightedAim aim;
        const auto equals = part.find('=');
        if (equals != std::string::npos) aim.weight = weight_of(part.substr(equals + 1));
        const std::string word = part.substr(0, equals);
        if (word.rfind("share:", 0) == 0) {
            aim.aim = OrderAim::share;
            aim.portion = word.substr(6);
            index_of(design, aim.portion);
        } else {
            aim.aim = aim_of(word);
        }
        aims.push_back(std::move(aim));
    }
    if (aims.empty()) throw InputError("", "rank", "nothing is said to rank by", aims_in_words);
    return aims;
}

std::string accent_of(const design::Design& design, const colour::ColourantLibrary& library) {
    const auto colours = portion_colours(design, library);
    const auto chroma = [&](std::size_t i) { return std::hypot(colours[i].lab.a, colours[i].lab.b); };
    std::size_t accent = 0;
    for (std::size_t i = 1; i < design.portions.size(); ++i) {
        const double less = design.portions[accent].share_percent - design.portions[i].share_percent;
        if (less > 0 || (less == 0 && chroma(i) > chroma(accent))) accent = i;
    }
    return design.portions[accent].id;
}

RankedOrders ranked_orders(FaceMaker& maker, const design::Design& design, const OrdersRequest& request,
                           Progress& progress) {
    design::validate(design, maker.colour_library());
    const bool by_collection = std::any_of(request.aims.begin(), request.aims.end(), [](const auto& aim) {
        return aim.aim == OrderAim::kin || aim.aim == OrderAim::apart;
    });
    if (by_collection && request.collection.empty())
        throw InputError("", "rank", "kin and apart need a collection to compare with", "a collection");
    return OrderLook(maker, design, request, progress).ranked();
}

}  // namespace foreslice::picture
