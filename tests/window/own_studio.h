// A maker's studio on a folder of its own, begun as often as a test likes; it draws nothing, and hardly ever
// autosaves by itself.
#pragma once

#include <chrono>
#include <filesystem>
#include <memory>
#include <string>
#include <utility>

#include "own_folder.h"
#include "stand_in_drawer.h"
#include "studio/session/own_colourants.h"
#include "studio/session/session.h"

namespace foreslice::studio::testing {

inline colour::ColourantLibrary shipped() {
    return colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json");
}

struct OwnStudio {
    OwnFolder folder;
    DrawerLog log;

    Session::Setup setup() {
        Session::Setup setup;
        const auto own = own_colourants_file(state());
        setup.colour_library = std::make_shared<colour::ColourantLibrary>(
            std::filesystem::exists(own) ? colour::ColourantLibrary::load(own.string()) : shipped());
        setup.state_folder = state();
        setup.autosave_every = std::chrono::hours(1);
        setup.make_drawer = [this](bool sketch) { return std::make_unique<StandInDrawer>(log, sketch); };
        return setup;
    }
    std::filesystem::path state() const { return folder.path / "state"; }
    std::filesystem::path file(const std::string& name) const { return folder.path / name; }
    /// A copy of a file of the tests' data.
    std::filesystem::path copied(const std::string& from, const std::string& name) const {
        std::filesystem::copy_file(FORESLICE_TEST_DATA "/" + from, file(name));
        return file(name);
    }
    std::filesystem::path design_file(const std::string& name) const {
        return copied("window/quick.foreslice.json", name);
    }
};

inline void rename(Session& session, const std::string& name) {
    auto design = session.design();
    design.name = name;
    session.edit(std::move(design), "name");
}

inline std::string notices(Session& session) {
    std::string all;
    for (const auto& notice : session.take_notices()) all += notice.sentence + "\n";
    return all;
}

}  // namespace foreslice::studio::testing
