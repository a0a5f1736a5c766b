// What oils need to become soap: saponification and iodine values as the ranges that standards print.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace foreslice::batter {

/// Both ends are allowed; equal where a source gives one figure.
struct Span {
    double low = 0, high = 0;
    double middle() const { return (low + high) / 2; }
    friend bool operator==(const Span&, const Span&) = default;
};

enum class OilKind { oil, butter, fat, wax };

struct Oil {
    std::string id;     ///< "olive-virgin"; the same as in the list of tints where both know the oil
    std::string name;   ///< for people
    std::string inci;   ///< from memory: check before printing a label
    Span koh_mg_per_g;  ///< saponification value, mg KOH per g (the quantity of ISO 3657)
    Span iodine;        ///< iodine value, g per 100 g; 0 to 0 when the source gives none
    Span melts_c;       ///< melting range, degrees C; 0 to 0 when it is liquid or no source was read
    OilKind kind = OilKind::oil;
    std::string source;     ///< where the range is printed
    std::string how_known;  ///< "read", "read-restated", "mixed" or "memory"
};

class OilsTable {
  public:
    /// Reads palettes/oils.csv or a maker's own table of that form: id, name, inci, koh_low, koh_high,
    /// iodine_low, iodine_high, melts_low, melts_high, kind, source, how_known. Throws InputError naming
    /// file, line, what is wrong and what is allowed.
    static OilsTable load(const std::filesystem::path& path);
    static OilsTable parse(std::string_view csv, const std::string& file);

    const std::vector<Oil>& oils() const { return oils_; }
    const Oil* find(std::string_view id) const;  ///< nullptr when absent
    /// The first few ids, comma separated, for error sentences.
    std::string some_ids() const;

  private:
    std::vector<Oil> oils_;
};

std::string_view name_of(OilKind kind);  ///< "oil", "butter", "fat", "wax"

/// What a standard may print and a certificate may say, mg KOH per g: from waxes to the shortest fats.
inline constexpr Span possible_koh_mg_per_g{40, 400};

}  // namespace foreslice::batter
