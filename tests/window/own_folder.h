// A folder of its own for a test, gone when the test ends.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <system_error>

namespace foreslice::studio::testing {

struct OwnFolder {
    std::filesystem::path path;
    OwnFolder() {
        static int count = 0;
        std::string name = "foreslice-test-";
        name += std::to_string(std::chrono::steady_clock::now().time_since_epoch().count());
        name += "-" + std::to_string(count++);
        path = std::filesystem::temp_directory_path() / name;
        std::filesystem::create_directories(path);
    }
    ~OwnFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path, ignored);
    }
    OwnFolder(const OwnFolder&) = delete;
    OwnFolder& operator=(const OwnFolder&) = delete;
};

}  // namespace foreslice::studio::testing
