#include "studio/session/collection_sending.h"

#include <algorithm>
#include <system_error>
#include <vector>

#include "design/collection.h"
#include "design/design_file.h"
#include "design/differences.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/file_stamp.h"
#include "foundation/text_file.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

constexpr int most_same_names = 999;

design::Collection opened(const fs::path& file, FileStamp& stamp, bool& begun) {
    std::error_code error;
    begun = !fs::exists(file, error);
    if (!begun) {
        const std::string text = read_file(file);
        stamp = FileStamp(text);
        return design::parse_collection(text, file);
    }
    design::Collection out;
    std::string name = file.filename().string();
    if (name.ends_with(collection_suffix)) name.resize(name.size() - collection_suffix.size());
    out.name = name.empty() ? "untitled" : name;
    out.file = file;
    return out;
}

bool member_of(const design::Collection& collection, const std::string& file) {
    return std::any_of(collection.members.begin(), collection.members.end(),
                       [&](const design::CollectionMember& member) { return member.file == file; });
}

// A name that neither the folder nor the collection has yet.
std::string free_name(const design::Collection& collection, const std::string& stem) {
    for (int number = 1; number <= most_same_names; ++number) {
        std::string name = stem;
        if (number > 1) name.append("-").append(std::to_string(number));
        name += design::file_ending;
        std::error_code error;
        if (!fs::exists(collection.path_of(name), error) && !member_of(collection, name)) return name;
    }
    throw InputError(collection.file.string(), "", "there are too many files called " + stem + " already",
                     "");
}

void check_colourants(const design::Design& design, const design::Collection& collection,
                      const colour::ColourantLibrary& library) {
    if (collection.colourants.empty()) return design::validate(design, library);
    design::validate(design, colour::ColourantLibrary::load(collection.path_of(collection.colourants)));
}

std::string words_of(const std::vector<design::Difference>& found) {
    if (found.empty()) return "";
    std::string words = design::sentence_of(found.front());
    if (found.size() > 1) words += " and " + std::to_string(found.size() - 1) + " more";
    return words;
}

}  // namespace

Sent add_to_collection(const design::Design& design, const fs::path& file,
                       const colour::ColourantLibrary& library) {
    FileStamp stamp;
    Sent sent;
    design::Collection collection = opened(file, stamp, sent.collection_begun);
    if (collection.members.size() >= design::limits::collection_designs)
        throw InputError(file.string(), "", "the collection is full",
                         "up to " + std::to_string(design::limits::collection_designs) + " designs");
    design::validate(design);
    check_colourants(design, collection, library);
    const std::string name = free_name(collection, file_stem_for(design.name));
    collection.members.push_back({name, 1});
    sent.file = collection.path_of(name);
    sent.collection = collection.name;
    write_file_if_unchanged(sent.file, design::to_json(design), FileStamp());
    try {
        write_file_if_unchanged(file, design::to_json(collection), stamp);
    } catch (const InputError&) {
        std::error_code ignored;
        fs::remove(sent.file, ignored);
        throw;
    }
    sent.changed = words_of(
        design::differences(design, design::load_member(collection, collection.members.back()), &library));
    return sent;
}

std::string sentence_of(const Sent& sent) {
    std::string words = sent.collection_begun ? "Begun the collection " : "Sent to the collection ";
    words += "“" + sent.collection + "” " + (sent.collection_begun ? "with " : "as ");
    words += sent.file.filename().string() + ".";
    if (!sent.changed.empty()) words += " Its defaults change the design there: " + sent.changed + ".";
    return words;
}

fs::path likely_collection(const fs::path& last_used, const fs::path& design_folder) {
    std::error_code error;
    if (!last_used.empty() && fs::is_regular_file(last_used, error)) return last_used;
    std::vector<fs::path> found;
    auto at = fs::directory_iterator(design_folder, fs::directory_options::skip_permission_denied, error);
    constexpr int most_looked_at = 2000;
    for (int count = 0; !error && at != fs::directory_iterator() && count < most_looked_at;
         at.increment(error), ++count)
        if (at->path().filename().string().ends_with(collection_suffix)) found.push_back(at->path());
    if (!found.empty()) return *std::min_element(found.begin(), found.end());
    return design_folder / std::string("soaps").append(collection_suffix);
}

std::string file_stem_for(const std::string& name) {
    std::string out;
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        const bool keep = byte >= 0x80 || (byte >= '0' && byte <= '9') || (byte >= 'a' && byte <= 'z') ||
                          (byte >= 'A' && byte <= 'Z');
        if (keep)
            out += byte >= 'A' && byte <= 'Z' ? static_cast<char>(byte + 32) : c;
        else if (!out.empty() && out.back() != '-')
            out += '-';
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out.empty() ? "design" : out;
}

}  // namespace foreslice::studio
