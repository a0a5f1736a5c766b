// One function a panel. Each draws itself into its area from the session and the view, and does nothing else
// than edit the session and the view.
#pragma once

#include "studio/session/seeing.h"
#include "studio/window/layout.h"
#include "studio/window/swatch_desk.h"
#include "studio/window/view.h"

namespace foreslice::studio {

struct Figure;

void draw_title_bar(const Studio& studio, const Area& area);
void draw_ribbon(const Studio& studio, const Area& area);
/// The paper with its pages and the loaf along its lower edge.
void draw_paper(const Studio& studio, const Area& area);
void draw_loaf_strip(const Studio& studio, const Area& area);
/// Cuts the loaf so far from its start; near the face of a bar exactly there.
void put_knife(const Studio& studio, double z_mm);

// Pages, see panel_list.h.
void draw_page_pair(const Studio& studio, const Area& page);
void draw_page_wiper(const Studio& studio, const Area& page);
void draw_page_bar(const Studio& studio, const Area& page);
void draw_page_loaf(const Studio& studio, const Area& page);
void draw_page_top(const Studio& studio, const Area& page);
void draw_page_board(const Studio& studio, const Area& page);
/// Whether the board has work whose progress is shown.
bool board_busy(const Studio& studio);

/// The names of the layers beside the poured figure.
void draw_layer_labels(const Studio& studio, const Figures& figures);
/// Takes hold of layers and their edges on the poured figure.
void draw_layer_hands(const Studio& studio, const Figure& figure);
/// Makes the last item something that a portion can be dragged off, to be dropped on a layer.
void offer_portion(const Studio& studio, std::size_t portion);
inline constexpr const char* portion_payload = "portion";
/// The wire's way over the poured layers: points, passes and turns can be dragged, a way drawn by hand.
void draw_wire_path(const Studio& studio, const Figure& figure);
void draw_wire_by_hand(const Studio& studio);
bool drawing_wire_by_hand(const Studio& studio);
void stop_drawing_wire(const Studio& studio);

/// The controls of the chosen step.
void draw_controls(const Studio& studio, const Area& area);
void draw_batter(const Studio& studio);
void draw_tint(const Studio& studio);
void draw_pour(const Studio& studio);
/// Its part about the manner of the chosen pour.
void draw_pour_manner(const Studio& studio);
void draw_wire(const Studio& studio);
void draw_top(const Studio& studio);
void draw_cut(const Studio& studio);
void draw_cure(const Studio& studio);
/// Part of the cure's controls: the age of the bars, and how sure their colours are.
void draw_age(const Studio& studio);
/// Parts of the tint's controls: a portion at four ages, what a dose can do with white, pictures to pick
/// colours from, recipes for a wanted colour, light and eyes.
void draw_age_swatches(const Studio& studio, std::size_t portion);
void draw_doses(const Studio& studio, std::size_t portion);
void draw_reach(const Studio& studio, std::size_t portion);
void draw_themes(const Studio& studio);
void add_theme(const Studio& studio, std::shared_ptr<const OpenedPhoto> photo);
void draw_match(const Studio& studio, std::size_t portion);
void want_colour(const Studio& studio, colour::EncodedSrgb colour);
void draw_light(const Studio& studio);
/// "in ... by ..."; empty for daylight and usual eyes.
std::string words_of(const Seeing& seeing);
/// Part of the cut's controls: shares, bands, feathers, symmetry, contrast of the face.
void draw_measures(const Studio& studio);
/// Lets measures be taken while they are on the screen; once a frame.
void settle_measures(const Studio& studio);
/// What is wrong or risky, in sentences.
void draw_notes(const Studio& studio, const Area& area);
float notes_height(const Studio& studio, float width);
/// What its first sight needs and takes longer than a frame, a part at each call, while nobody waits for one;
/// false when nothing is left to do.
bool prepare_page_bar(const Studio& studio);
void draw_status(const Studio& studio, const Area& area);
void draw_dialogs(const Studio& studio);
const char* title_of(Dialog dialog);
/// A photo of test bars, inside its dialog.
void draw_swatches(const Studio& studio);
/// Opens that dialog for a photo (JPEG, PNG); false for any other file.
bool open_swatches(const Studio& studio, const std::filesystem::path& file);
void fit_swatches(const Studio& studio);
/// Writes the maker's library with what was fitted; the session then uses it at once.
void keep_swatches(const Studio& studio);
/// Takes up what the workers of that dialog have finished; once a frame.
void settle_swatches(const Studio& studio);

/// Helpers that panels share.
bool begin_panel(const char* name, const Area& area, Ui& ui);
void end_panel();
/// Carries an edited value into the document: an undo step a stay at one field.
void apply(const Studio& studio, Edited edited, design::Design next, const std::string& words,
           const std::string& field);
const char* name_of(Step step);
/// In which units a design is shown.
ShownUnits units_of(const design::Design& design);
std::string portion_name(const design::Portion& portion);
/// Column (x) and row (y) of one of many that lie row by row.
inline ImVec2 cell_of(std::size_t index, std::size_t columns) {
    const std::size_t row = index / columns;
    return {static_cast<float>(index - row * columns), static_cast<float>(row)};
}
/// The colour of a portion, grey while it is not known.
colour::EncodedSrgb colour_of_portion(const Session& session, std::size_t portion);

}  // namespace foreslice::studio
