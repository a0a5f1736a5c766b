// Two windows that want the same: one of them gets it, and only as long as it lives.
#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

#if !defined(_WIN32)
#include <sys/wait.h>
#include <unistd.h>
#include <csignal>
#endif

#include "foundation/held_name.h"

using namespace foreslice;
namespace fs = std::filesystem;

namespace {

struct Register {
    fs::path path;
    explicit Register(const char* name) : path(fs::temp_directory_path() / name) { fs::remove(path); }
    ~Register() { fs::remove(path); }
};

constexpr std::chrono::milliseconds no_time{0};

}  // namespace

TEST_CASE("held name: one holds it, others get other names, and it is free again when let go") {
    const Register names("foreslice-held-names");
    std::optional<HeldName> first = HeldName::try_hold(names.path, "slipway");
    REQUIRE(first);
    CHECK_FALSE(HeldName::try_hold(names.path, "slipway"));
    CHECK_FALSE(HeldName::hold(names.path, "slipway", no_time));
    CHECK(HeldName::are_held(names.path, {"breakwater", "slipway"}) == std::vector<bool>{false, true});
    CHECK(HeldName::try_hold(names.path, "breakwater"));
    CHECK(fs::file_size(names.path) == 0);
    std::optional<HeldName> moved = std::move(first);
    first.reset();
    CHECK_FALSE(HeldName::try_hold(names.path, "slipway"));  // who it was moved to holds it
    moved.reset();
    CHECK(HeldName::are_held(names.path, {"slipway"}) == std::vector<bool>{false});
    CHECK(HeldName::try_hold(names.path, "slipway"));
}

TEST_CASE("held name: waiting for it ends when it is let go") {
    const Register names("foreslice-held-names-wait");
    std::optional<HeldName> first = HeldName::try_hold(names.path, "slipway");
    std::thread other([&] {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        first.reset();
    });
    CHECK(HeldName::hold(names.path, "slipway", std::chrono::minutes(1)));
    other.join();
}

TEST_CASE("held name: where none can be held nobody is kept out") {
    const fs::path nowhere = fs::temp_directory_path() / "foreslice-no-such-folder" / "names";
    const auto first = HeldName::try_hold(nowhere, "slipway");
    CHECK(first);
    CHECK(HeldName::try_hold(nowhere, "slipway"));
}

#if !defined(_WIN32)
TEST_CASE("held name: a program that dies lets go") {
    const Register names("foreslice-held-names-death");
    int told[2] = {-1, -1};
    REQUIRE(pipe(told) == 0);
    const pid_t child = fork();
    if (child == 0) {
        const auto held = HeldName::try_hold(names.path, "slipway");
        const char answer = held ? 'y' : 'n';
        if (write(told[1], &answer, 1) != 1) _exit(1);
        for (;;) pause();
    }
    char answer = 0;
    REQUIRE(read(told[0], &answer, 1) == 1);
    CHECK(answer == 'y');
    CHECK_FALSE(HeldName::try_hold(names.path, "slipway"));
    kill(child, SIGKILL);
    waitpid(child, nullptr, 0);
    CHECK(HeldName::try_hold(names.path, "slipway"));
    close(told[0]);
    close(told[1]);
}
#endif
