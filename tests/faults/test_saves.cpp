// Saving when the disk does not play along: the power is cut at every call that touches it, and every one of
// them fails in turn. The file is the old one or the new one, whole; the error says which file and why.
#include <doctest/doctest.h>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <map>

#include "cli/program.h"
#include "design/design_file.h"
#include "design/made.h"
#include "faults/disk_faults.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::testing;
namespace fs = std::filesystem;

namespace {

constexpr int refused = 2;

using Folder = std::map<std::string, std::string>;  // name and bytes of each file

Folder look_into(const fs::path& path) {
    Folder folder;
    for (const auto& entry : fs::directory_iterator(path))
        folder[entry.path().filename().string()] = bytes_of(entry.path().string());
    return folder;
}

// What may lie about after a power cut, and does no harm: a copy that was never given its name.
Folder without_parts(Folder folder) {
    std::erase_if(folder, [](const auto& file) { return file.first.find(".part") != std::string::npos; });
    return folder;
}

// A folder as it is before a save, and the save.
struct Saving {
    const char* what;
    std::function<void(const fs::path&)> prepare, save;
};

design::Design quay() {
    return design::load(demo_design("slipway"));
}

design::Design wider_quay() {
    auto design = quay();
    design.notes = "wider by the width of a rope";
    design.mould.width_mm += 1;
    return design;
}

std::vector<Saving> savings() {
    const auto nothing = [](const fs::path&) {};
    const auto old_design = [](const fs::path& folder) { design::save(quay(), folder / "quay.json"); };
    const auto new_design = [](const fs::path& folder) { design::save(wider_quay(), folder / "quay.json"); };
    const auto batch = [](const char* date) {
        return [date](const fs::path& folder) {
            design::add_made(folder / "quay.foreslice.json", {date, "thickened fast", "", {}, {}, quay()});
        };
    };
    // Larger than what the C library holds back before it asks the system to write.
    const auto large = [](char letter) {
        return [letter](const fs::path& folder) {
            write_file_atomically(folder / "large.png", std::string(300000, letter));
        };
    };
    return {{"a design for the first time", nothing, new_design},
            {"a design over an older one", old_design, new_design},
            {"a batch made", batch("2026-03-14"), batch("2026-04-02")},
            {"a large picture", large('a'), large('b')},
            {"through a link",
             [](const fs::path& folder) {
                 write_file_atomically(folder / "real.json", "old");
                 fs::create_symlink("real.json", folder / "link.json");
             },
             [](const fs::path& folder) { write_file_atomically(folder / "link.json", "new and longer"); }}};
}

// The child's work: the save, and the sentence when it is refused.
std::function<int()> in_child(const Saving& saving, const fs::path& folder, int said) {
    return [&saving, folder, said] {
        try {
            saving.save(folder);
            return 0;
        } catch (const InputError& error) {
            const std::string sentence = error.what();
            return ::write(said, sentence.data(), sentence.size()) > 0 ? refused : 3;
        }
    };
}

void start_over(const Saving& saving, const fs::path& folder) {
    for (const auto& entry : fs::directory_iterator(folder)) fs::remove(entry.path());
    saving.prepare(folder);
}

/// What a save does when nothing goes wrong: the folder before and after it, and its system calls.
struct Undisturbed {
    Folder before, after;
    int calls = 0;
};

Undisturbed undisturbed(const Saving& saving, const fs::path& folder) {
    start_over(saving, folder);
    Undisturbed found;
    found.before = look_into(folder);
    found.calls = static_cast<int>(watch(in_child(saving, folder, 2)).calls.size());
    found.after = look_into(folder);
    return found;
}

}  // namespace

TEST_CASE("saving: the bytes are on the disk before they get their name, and the name after") {
    if (!can_watch()) return;
    for (const Saving& saving : savings()) {
        CAPTURE(saving.what);
        const ScratchFolder scratch;
        const fs::path folder = scratch / "";
        start_over(saving, folder);
        const auto seen = watch(in_child(saving, folder, 2));
        CHECK(seen.code == 0);
        const auto at = [&](const char* name) {
            return std::find(seen.calls.begin(), seen.calls.end(), name) - seen.calls.begin();
        };
        CHECK(at("open") < at("write"));
        CHECK(at("write") < at("flush"));
        CHECK(at("flush") < at("close"));
        CHECK(at("close") < at("rename"));
        CHECK(at("rename") < at("flush folder"));
        CHECK(at("flush folder") < static_cast<std::ptrdiff_t>(seen.calls.size()));
    }
}

TEST_CASE("power cut at every call of a save: the old file or the new one, whole, and saving goes on") {
    if (!can_watch()) return;
    for (const Saving& saving : savings()) {
        const ScratchFolder scratch;
        const fs::path folder = scratch / "";
        const auto [before, after, calls] = undisturbed(saving, folder);
        REQUIRE(calls >= 6);
        REQUIRE(after != before);
        int kept_old = 0, got_new = 0;
        for (int call = 0; call < calls; ++call)
            for (const When when : {When::before, When::half, When::after}) {
                CAPTURE(saving.what);
                CAPTURE(call);
                start_over(saving, folder);
                const auto cut = cut_power(in_child(saving, folder, 2), call, when);
                CHECK(cut.reached);
                CHECK(cut.code == 128 + 9);
                const Folder now = without_parts(look_into(folder));
                kept_old += now == before ? 1 : 0;
                got_new += now == after ? 1 : 0;
                CHECK((now == before || now == after));
                if (now == after) continue;
                saving.save(folder);  // with what the cut left lying about
                CHECK(without_parts(look_into(folder)) == after);
            }
        CHECK(kept_old > 0);
        CHECK(got_new > 0);
    }
}

TEST_CASE("every call of a save fails in turn: a clear sentence and nothing changed, or all is well") {
    if (!can_watch()) return;
    struct Fault {
        int error;
        const char* words;
    };
    for (const Saving& saving : savings())
        for (const Fault& fault :
             {Fault{ENOSPC, "the disk is full"}, Fault{EIO, "Input/output error"},
              Fault{EROFS, "Read-only file system"}, Fault{EACCES, "Permission denied"}}) {
            const ScratchFolder scratch;
            const fs::path folder = scratch / "";
            const auto [before, after, calls] = undisturbed(saving, folder);
            int refusals = 0;
            for (int call = 0; call < calls; ++call) {
                CAPTURE(saving.what);
                CAPTURE(fault.words);
                CAPTURE(call);
                start_over(saving, folder);
                const std::string file = scratch / "../foreslice-said";
                const int said = ::open(file.c_str(), O_RDWR | O_CREAT | O_TRUNC, 0600);
                const auto broken = break_disk(in_child(saving, folder, said), call, fault.error, true);
                ::close(said);
                const std::string sentence = bytes_of(file);
                CHECK(broken.reached);
                CHECK((broken.code == 0 || broken.code == refused));
                CHECK(look_into(folder) == (broken.code == 0 ? after : before));  // no remains either
                if (broken.code == 0) continue;
                ++refusals;
                CHECK_MESSAGE(sentence.find(fault.words) != std::string::npos, sentence);
                CHECK_MESSAGE(sentence.find(folder.string()) != std::string::npos, sentence);
            }
            CHECK(refusals >= 4);  // open, write, flush, rename
        }
}

TEST_CASE("saving keeps who may read a file, keeps links, and respects what is protected") {
    const ScratchFolder scratch;
    const std::string file = scratch / "quay.json", link = scratch / "link.json";
    write_file_atomically(file, "old");
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink("quay.json", link);
    write_file_atomically(link, "new");
    CHECK(fs::is_symlink(link));
    CHECK(bytes_of(file) == "new");
    CHECK((fs::status(file).permissions() & fs::perms::others_read) == fs::perms::none);
    CHECK_THROWS_WITH_AS(write_file_atomically(scratch / "", "x"), doctest::Contains("it is a folder"),
                         InputError);
    CHECK_THROWS_WITH_AS(write_file_atomically("/dev/full", "x"), doctest::Contains("the disk is full"),
                         InputError);
    CHECK(fs::is_character_file("/dev/full"));  // and not replaced by a file of that name
    write_file_atomically("/dev/null", "x");
    CHECK(fs::is_character_file("/dev/null"));
    const std::string longest(250, 'q');  // a name that leaves no room for an ending
    write_file_atomically(scratch / longest, "x");
    CHECK(bytes_of(scratch / longest) == "x");
}

TEST_CASE("saving into a folder, or over a file, that may not be written says so and changes nothing") {
    if (!can_watch()) return;
    const ScratchFolder scratch;
    const fs::path folder = scratch / "locked";
    fs::create_directory(folder);
    write_file_atomically(folder / "quay.json", "old");
    const auto as_guest = [&](const std::function<void()>& lock, const char* words) {
        lock();
        const auto seen = watch([&] {
            if (::geteuid() == 0 && ::setuid(65534) != 0) return 3;  // root may write anywhere
            try {
                write_file_atomically(folder / "quay.json", "new");
                return 0;
            } catch (const InputError& error) {
                return std::string(error.what()).find(words) != std::string::npos ? refused : 4;
            }
        });
        CHECK(seen.code == refused);
        CHECK(look_into(folder) == Folder{{"quay.json", "old"}});
    };
    as_guest(
        [&] {
            ::chmod(folder.c_str(), 0555);
            ::chmod((folder / "quay.json").c_str(), 0666);
        },
        "Permission denied");
    as_guest(
        [&] {
            ::chmod(folder.c_str(), 0777);
            ::chmod((folder / "quay.json").c_str(), 0444);
        },
        "protected against writing");
}
