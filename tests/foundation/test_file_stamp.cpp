// Two windows on one file: the second save sees that the first one happened.
#include <doctest/doctest.h>

#include <filesystem>
#include <string>

#include "foundation/error.h"
#include "foundation/file_stamp.h"
#include "foundation/text_file.h"

using namespace foreslice;

namespace {

// Cases may run at the same time: each has a name of its own.
struct OneFile {
    std::filesystem::path path;
    explicit OneFile(const std::string& name)
        : path(std::filesystem::temp_directory_path() / ("foreslice-stamp-" + name + ".json")) {
        std::filesystem::remove(path);
    }
    ~OneFile() { std::filesystem::remove(path); }
};

std::string refusal(const std::filesystem::path& path, const FileStamp& known) {
    try {
        write_file_if_unchanged(path, "mine", known);
        return "";
    } catch (const InputError& error) {
        CHECK(error.file() == path.string());
        return error.what();
    }
}

}  // namespace

TEST_CASE("file stamp: a file that nobody touched is written, again and again") {
    const OneFile file("again");
    FileStamp known = write_file_if_unchanged(file.path, "first", stamp_of(file.path));
    known = write_file_if_unchanged(file.path, "second", known);
    CHECK(read_file(file.path) == "second");
    CHECK(known == FileStamp("second"));
    write_file_atomically(file.path, "second");  // touched, but the same
    CHECK_NOTHROW(write_file_if_unchanged(file.path, "third", known));
}

TEST_CASE("file stamp: of two windows the second to save is told, and the first one's work stays") {
    const OneFile file("two-windows");
    write_file_atomically(file.path, "as opened");
    const FileStamp one = stamp_of(file.path), other = stamp_of(file.path);
    write_file_if_unchanged(file.path, "by the first window", one);
    const std::string said = refusal(file.path, other);
    CHECK(said.find("changed since it was opened") != std::string::npos);
    CHECK(said.find("another name") != std::string::npos);
    CHECK(read_file(file.path) == "by the first window");
}

TEST_CASE("file stamp: a file taken away or made in the meantime is told too") {
    const OneFile file("taken");
    const FileStamp none = stamp_of(file.path);
    write_file_atomically(file.path, "by somebody else");
    CHECK(refusal(file.path, none).find("made by somebody else") != std::string::npos);
    const FileStamp there = stamp_of(file.path);
    std::filesystem::remove(file.path);
    CHECK(refusal(file.path, there).find("taken away") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(file.path));
}

TEST_CASE("file stamp: what cannot be read or written is said with the system's reason") {
    const auto folder = std::filesystem::temp_directory_path() / "foreslice-stamp-folder";
    std::filesystem::create_directories(folder);
    CHECK_THROWS_WITH_AS(stamp_of(folder), doctest::Contains("it is a folder"), InputError);
    CHECK_THROWS_WITH_AS(write_file_if_unchanged(folder / "no" / "such.json", "x", {}),
                         doctest::Contains("cannot be written"), InputError);
    std::filesystem::remove_all(folder);
}
