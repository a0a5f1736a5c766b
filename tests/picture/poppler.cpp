#include "picture/poppler.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>

#include "foundation/random.h"
#include "foundation/text_file.h"

namespace foreslice::testing {
namespace {

namespace fs = std::filesystem;

class Folder {
  public:
    Folder() {
        static int count = 0;
        const auto now = std::chrono::steady_clock::now().time_since_epoch().count();
        path_ = fs::temp_directory_path() /
                ("foreslice-pdf-" + std::to_string(now) + "-" + std::to_string(++count));
        fs::create_directories(path_);
    }
    ~Folder() {
        std::error_code error;
        fs::remove_all(path_, error);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string operator/(const std::string& name) const { return (path_ / name).string(); }

  private:
    fs::path path_;
};

std::string answer(const std::string& pdf, const std::string& tool, const std::string& options) {
    const Folder folder;
    write_file_atomically(folder / "in.pdf", pdf);
    std::string command = tool;
    command += " \"" + (folder / "in.pdf") + "\" " + options + " >\"" + (folder / "out") + "\"";
    REQUIRE_MESSAGE(std::system(command.c_str()) == 0, command);
    return read_file(folder / "out");
}

}  // namespace

std::string text_of_pdf(const std::string& pdf) {
    return answer(pdf, "pdftotext -raw", "-");
}

std::string fonts_of_pdf(const std::string& pdf) {
    return answer(pdf, "pdffonts", "");
}

std::string facts_of_pdf(const std::string& pdf) {
    return answer(pdf, "pdfinfo", "");
}

std::string page_of_pdf(const std::string& pdf, int page, int dots_per_inch) {
    const std::string number = std::to_string(page);
    std::string options = "-png -singlefile -f ";
    options += number + " -l " + number + " -r " + std::to_string(dots_per_inch);
    return answer(pdf, "pdftoppm " + options, "");
}

}  // namespace foreslice::testing
