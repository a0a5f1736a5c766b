// foreslice flow: the flow at one instant, probed at points.
#include <CLI/CLI.hpp>
#include <charconv>
#include <cmath>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "foundation/error.h"
#include "picture/caption.h"
#include "picture/face.h"
#include "picture/section.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct FlowOptions {
    CommonOptions common;
    double path_fraction = 0.5;
    std::vector<std::string> probes;
    bool json = false;
};

struct Probe {
    Vec2 point_mm, velocity_mm_per_s, origin_mm;
    std::string portion;  ///< name of what lies there in the end
};

/// All strokes of the design, in groups that are drawn at different levels of the batter.
struct Flows {
    std::vector<std::shared_ptr<const flow::FlowMap>> maps;
    double path_length_mm = 0;
    flow::SolveReport report;

    /// The group that is at work when the wire has done a share of the whole path, and its own share.
    std::pair<std::size_t, double> at(double fraction) const {
        double travel = fraction * path_length_mm;
        for (std::size_t i = 0; i + 1 < maps.size(); ++i) {
            if (travel <= maps[i]->path_length_mm()) return {i, travel / maps[i]->path_length_mm()};
            travel -= maps[i]->path_length_mm();
        }
        const double last = maps.back()->path_length_mm();
        return {maps.size() - 1, std::min(1.0, last > 0 ? travel / last : 1.0)};
    }
};

bool read_number(std::string_view text, double& value) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc{} && end == text.data() + text.size() && std::isfinite(value);
}

Vec2 point_of(const std::string& text, const flow::Box& box) {
    const auto comma = text.find(',');
    Vec2 point;
    const bool good = comma != std::string::npos &&
                      read_number(std::string_view(text).substr(0, comma), point.x) &&
                      read_number(std::string_view(text).substr(comma + 1), point.y);
    const std::string inside = "0 to " + plain_number(box.width_mm) + " mm from the left wall and 0 to " +
                               plain_number(box.height_mm) + " mm from the floor";
    if (!good)
        throw InputError("", "--probe", foreslice::quoted(text) + " is not a point", "X,Y in mm: " + inside);
    if (point.x < 0 || point.x > box.width_mm || point.y < 0 || point.y > box.height_mm)
        throw InputError("", "--probe", foreslice::quoted(text) + " lies outside the batter", inside);
    return point;
}

Json pair_of(Vec2 value, double factor = 1) {
    return Json::array({factor * value.x, factor * value.y});
}

void print_flow_json(const design::Design& design, const FlowOptions& options, const Flows& flows,
                     const flow::Instant& instant, const std::vector<Probe>& probes) {
    const auto& report = flows.report;
    Json out{{"design", design.name},
             {"path_length_mm", flows.path_length_mm},
             {"path_fraction", options.path_fraction}};
    out["wire"] = {{"centre_mm", pair_of(instant.wire_centre_mm())},
                   {"velocity_m_per_s", pair_of(instant.wire_velocity_mm_per_s(), 1e-3)},
                   {"in_batter", instant.wire_in_batter()},
                   {"force_n_per_m", pair_of(instant.force_on_wire_n_per_m())}};
    out["solve"] = {{"positions", report.positions},
                    {"most_iterations", report.most_iterations},
                    {"worst_residual", report.worst_residual},
                    {"converged", report.converged}};
    out["probes"] = Json::array();
    for (const auto& probe : probes)
        out["probes"].push_back({{"point_mm", pair_of(probe.point_mm)},
                                 {"velocity_m_per_s", pair_of(probe.velocity_mm_per_s, 1e-3)},
                                 {"origin_mm", pair_of(probe.origin_mm)},
                                 {"of", probe.portion}});
    std::cout << out.dump(2) << "\n";
}

std::string words(Vec2 value, double factor, int digits) {
    return "(" + picture::short_number(factor * value.x, digits) + ", " +
           picture::short_number(factor * value.y, digits) + ")";
}

void print_flow_text(const design::Design& design, const FlowOptions& options, const Flows& flows,
                     const flow::Instant& instant, const std::vector<Probe>& probes) {
    std::cout << design.name << ": " << picture::batter_words(design) << ", " << picture::wire_words(design)
              << "\n"
              << "path of " << picture::short_number(flows.path_length_mm, 5) << " mm, at "
              << picture::short_number(100 * options.path_fraction, 4) << " % of it\n"
              << "wire at " << words(instant.wire_centre_mm(), 1, 4) << " mm, "
              << (instant.wire_in_batter() ? "in the batter" : "in the air") << ", moving at "
              << words(instant.wire_velocity_mm_per_s(), 1e-3, 3) << " m/s\n"
              << "force on the wire " << words(instant.force_on_wire_n_per_m(), 1, 4) << " N per m of wire\n";
    for (const auto& probe : probes)
        std::cout << "at " << words(probe.point_mm, 1, 5) << " mm: velocity "
                  << words(probe.velocity_mm_per_s, 1e-3, 4)
                  << " m/s; what is found there when all is done is " << probe.portion
                  << " and was poured at " << words(probe.origin_mm, 1, 5) << " mm\n";
}

Flows flows_of(picture::FaceMaker& maker, const design::Design& design, const flow::Resolution& resolution) {
    ProgressLine line(design.name);
    Flows flows;
    flows.maps = maker.flow_maps(design, resolution, line.progress());
    for (const auto& map : flows.maps) {
        flows.path_length_mm += map->path_length_mm();
        flows.report = picture::worst_of(flows.report, map->report());
    }
    return flows;
}

// Velocity now; and where what lies there in the end was poured, back through strokes and pours.
void look(Probe& probe, const design::Design& design, const Flows& flows, std::size_t group,
          const flow::Instant& instant, const picture::Section& section) {
    const auto groups = design::stroke_groups(design);
    if (probe.point_mm.y <= design::box_after(design, groups[group].pours).height_mm)
        probe.velocity_mm_per_s = instant.velocity_mm_per_s(probe.point_mm);
    const bool drawn_last = groups.back().pours == design.pours.size();
    const auto origin =
        section.origin(drawn_last ? flows.maps.back()->origin_mm(probe.point_mm) : probe.point_mm);
    probe.origin_mm = origin.point_mm;
    probe.portion = picture::materials_of(design)[static_cast<std::size_t>(origin.bit.material)].name;
}

int show_flow(const FlowOptions& options) {
    const auto library = library_of(options.common);
    const auto design = opened(options.common.design, *library);
    const auto box = design::box_of(design);
    if (!std::isfinite(options.path_fraction))  // the range check of the parser lets "nan" through
        throw InputError("", "--path-fraction", "is not a number", "0 to 1");
    std::vector<Probe> probes;
    for (const auto& text : options.probes) probes.push_back({point_of(text, box), {}, {}, {}});
    if (design.strokes.empty())
        throw InputError(options.common.design.string(), "/strokes",
                         "there is no stroke of the wire, so nothing flows", "a design with a stroke");
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, library);
    const auto resolution = options.common.resolution();
    const Flows flows = flows_of(maker, design, resolution);
    const auto [group, share] = flows.at(options.path_fraction);
    const auto instant = flows.maps[group]->at_fraction(share);
    Progress quiet;
    const auto section = maker.section(design, 1, resolution, quiet);
    for (auto& probe : probes) look(probe, design, flows, group, *instant, *section);
    (options.json ? print_flow_json : print_flow_text)(design, options, flows, *instant, probes);
    return exit_code_of(flows.report, options.common.design.string());
}

}  // namespace

void add_flow(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<FlowOptions>();
    CLI::App* command = app.add_subcommand("flow", "Velocity, force and origins at one instant of the wire");
    add_design(*command, options->common);
    command
        ->add_option("--path-fraction", options->path_fraction,
                     "Share of the wire's whole path that is done, 0 to 1")
        ->type_name("S")
        ->check(CLI::Range(0.0, 1.0))
        ->capture_default_str();
    command
        ->add_option("--probe", options->probes,
                     "Points to look at, mm from the left wall and from the floor")
        ->type_name("X,Y");
    command->add_flag("--json", options->json, "Print JSON");
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice flow palettes/slipway.foreslice.json --path-fraction 0.4 --probe 20,30 "
        "32.5,40");
    command->final_callback([options, &chosen] { chosen = [options] { return show_flow(*options); }; });
}

}  // namespace foreslice::cli
