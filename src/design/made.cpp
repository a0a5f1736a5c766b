#include "design/made.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "design/design_file.h"
#include "design/internal/tree.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/file_stamp.h"
#include "foundation/text_file.h"

namespace foreslice::design {
namespace {

constexpr const char* made_format = "foreslice batches made";
constexpr int made_version = 1;
constexpr std::string_view made_ending = ".made.json";
constexpr std::size_t most_figures = 100;

bool is_date(const std::string& text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    for (const std::size_t at : {0, 1, 2, 3, 5, 6, 8, 9})
        if (std::isdigit(static_cast<unsigned char>(text[at])) == 0) return false;
    const int year = std::stoi(text.substr(0, 4)), month = std::stoi(text.substr(5, 2)),
              day = std::stoi(text.substr(8, 2));
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    const std::array days{31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month >= 1 && month <= 12 && day >= 1 && day <= days[static_cast<std::size_t>(month - 1)];
}

bool leads_out(const std::string& file) {
    const std::filesystem::path path(file);
    return path.is_absolute() || path.has_root_name() || file.find('\\') != std::string::npos ||
           std::find(path.begin(), path.end(), "..") != path.end();
}

std::vector<std::pair<std::string, double>> figures(Fields& fields, const std::string& key, Range allowed) {
    std::vector<std::pair<std::string, double>> list;
    const auto place = fields.find(key);
    if (!place) return list;
    Fields own(*place);
    for (const auto& [name, value] : place->value().items())
        list.emplace_back(name, own.number(name, allowed));
    if (list.size() > most_figures)
        place->fail("has too many entries", "at most " + std::to_string(most_figures));
    return list;
}

MadeBatch read_batch(const Place& place, const std::string& file) {
    Fields fields(place);
    MadeBatch batch;
    const Place date = fields.at("date", "a date, YYYY-MM-DD");
    batch.date = date.text(10);
    if (!is_date(batch.date)) date.fail_wrong("a date of the calendar, YYYY-MM-DD");
    if (const auto notes = fields.find("notes")) batch.notes = notes->text(limits::notes_length);
    if (const auto photo = fields.find("photo")) {
        batch.photo = photo->text(limits::name_length);
        if (leads_out(batch.photo)) photo->fail_wrong("a file inside the plan's folder");
    }
    batch.weights_g = figures(fields, "weights_g", limits::weight_g);
    batch.temperatures_c = figures(fields, "temperatures_c", limits::temperature_c);
    Json document = fields.at("design", "the plan as it was").value();
    migrate(document, file);
    batch.design = design_from_tree(document, file);
    return batch;
}

Json tree_of_figures(const std::vector<std::pair<std::string, double>>& list) {
    Json tree = Json::object();
    for (const auto& [name, value] : list) tree[name] = json_number(value);
    return tree;
}

void check(const MadeBatch& batch) {
    if (!is_date(batch.date))
        throw InputError("", "date", foreslice::quoted(batch.date) + " is no date",
                         "a day of the calendar, YYYY-MM-DD");
    if (leads_out(batch.photo))
        throw InputError("", "photo", foreslice::quoted(batch.photo) + " does not lie in the plan's folder",
                         "a file beside the plan");
    std::string ids;
    for (const auto& portion : batch.design.portions) ids += (ids.empty() ? "" : ", ") + portion.id;
    for (const auto& [portion, g] : batch.weights_g) {
        if (find_portion(batch.design, portion) == nullptr)
            throw InputError("", "weight", foreslice::quoted(portion) + " is no portion of this plan", ids);
        if (!limits::weight_g.holds(g))
            throw InputError("", "weight", plain_number(g) + " g of " + portion + " cannot be",
                             "0 to 1000000 g");
    }
    for (const auto& [what, degrees] : batch.temperatures_c)
        if (what.empty() || !limits::temperature_c.holds(degrees))
            throw InputError("", "temperature",
                             plain_number(degrees) + " °C of " + foreslice::quoted(what) + " cannot be",
                             "a word and -30 to 200 °C");
    if (batch.notes.size() > limits::notes_length)
        throw InputError("", "note", "the note is too long",
                         "at most " + std::to_string(limits::notes_length) + " bytes");
}

}  // namespace

std::filesystem::path made_file_of(const std::filesystem::path& plan) {
    std::string name = plan.filename().string();
    if (std::string_view(name).ends_with(file_ending)) name.resize(name.size() - file_ending.size());
    return plan.parent_path() / (name + std::string(made_ending));
}

std::vector<MadeBatch> parse_made(std::string_view json, const std::string& name) {
    const Json tree = json_from_text(json, name);
    Fields fields(Place(tree, "", name));
    check_heading(fields, name, made_format, made_version, "the record");
    std::vector<MadeBatch> batches;
    for (const Place& item :
         fields.at("batches", "a list of batches").items(0, limits::made_batches, "batches"))
        batches.push_back(read_batch(item, name));
    std::stable_sort(batches.begin(), batches.end(),
                     [](const auto& a, const auto& b) { return a.date < b.date; });
    return batches;
}

std::vector<MadeBatch> load_made(const std::filesystem::path& plan) {
    const auto file = made_file_of(plan);
    std::error_code error;
    if (!std::filesystem::exists(file, error)) return {};
    return parse_made(read_file(file, limits::made_file_bytes), file.string());
}

std::string to_json(const std::vector<MadeBatch>& batches) {
    Json tree = Json::object();
    tree["format"] = made_format;
    tree["version"] = made_version;
    Json& list = tree["batches"] = Json::array();
    for (const auto& batch : batches) {
        Json one = Json::object();
        one["date"] = batch.date;
        one["notes"] = batch.notes;
        if (!batch.photo.empty()) one["photo"] = batch.photo;
        if (!batch.weights_g.empty()) one["weights_g"] = tree_of_figures(batch.weights_g);
        if (!batch.temperatures_c.empty()) one["temperatures_c"] = tree_of_figures(batch.temperatures_c);
        one["design"] = tree_of(batch.design);
        list.push_back(std::move(one));
    }
    return text_from_json(tree);
}

void add_made(const std::filesystem::path& plan, const MadeBatch& batch) {
    check(batch);
    const auto file = made_file_of(plan);
    const FileStamp known = stamp_of(file);
    auto batches = load_made(plan);
    const auto later = std::find_if(batches.begin(), batches.end(),
                                    [&](const auto& other) { return other.date > batch.date; });
    batches.insert(later, batch);
    write_file_if_unchanged(file, to_json(batches), known);
}

Design next_from(const MadeBatch& batch) {
    Design next = batch.design;
    double all_g = 0;
    std::vector<double> weighed_g;
    for (const auto& portion : next.portions) {
        const auto found = std::find_if(batch.weights_g.begin(), batch.weights_g.end(),
                                        [&](const auto& one) { return one.first == portion.id; });
        if (found == batch.weights_g.end()) break;
        weighed_g.push_back(found->second);
        all_g += found->second;
    }
    if (weighed_g.size() == next.portions.size() && all_g > 0)
        for (std::size_t i = 0; i < weighed_g.size(); ++i)
            next.portions[i].share_percent = 100 * weighed_g[i] / all_g;
    if (batch.notes.empty()) return next;
    if (!next.notes.empty()) next.notes += '\n';
    next.notes.append("Made ").append(batch.date).append(": ").append(batch.notes);
    return next;
}

}  // namespace foreslice::design
