// One function a panel. Each draws itself into its area from the session and the view, and does nothing else
// than edit the session and the view.
#pragma once

#include "studio/window/layout.h"
#include "studio/window/view.h"

namespace foreslice::studio {

void draw_title_bar(const Studio& studio, const Area& area);
void draw_ribbon(const Studio& studio, const Area& area);
/// The paper with the poured layers and the cut face.
void draw_sheet(const Studio& studio, const Area& area);
/// The wire's way over the poured layers; points of a point-by-point stroke can be dragged.
void draw_wire_path(const Studio& studio, const Area& figure, double px_per_mm);
/// The controls of the chosen step.
void draw_controls(const Studio& studio, const Area& area);
void draw_batter(const Studio& studio);
void draw_tint(const Studio& studio);
void draw_pour(const Studio& studio);
/// Its part about the manner of the chosen pour.
void draw_pour_manner(const Studio& studio);
void draw_wire(const Studio& studio);
void draw_cut(const Studio& studio);
/// Part of the cut's controls: the age of the bars, and how sure their colours are.
void draw_age(const Studio& studio);
/// What is wrong or risky, in sentences.
void draw_notes(const Studio& studio, const Area& area);
float notes_height(const Studio& studio, float width);
void draw_status(const Studio& studio, const Area& area);
void draw_dialogs(const Studio& studio);
/// A photo of test bars, inside its dialog.
void draw_swatches(const Studio& studio);
/// Opens that dialog for a photo (JPEG, PNG); false for any other file.
bool open_swatches(const Studio& studio, const std::filesystem::path& file);

/// Helpers that panels share.
bool begin_panel(const char* name, const Area& area, Ui& ui);
void end_panel();
/// Carries an edited value into the document: an undo step a stay at one field.
void apply(const Studio& studio, Edited edited, design::Design next, const std::string& words,
           const std::string& field);
const char* name_of(Step step);
std::string portion_name(const design::Portion& portion);
/// The colour of a portion, grey while it is not known.
colour::EncodedSrgb colour_of_portion(const Session& session, std::size_t portion);
std::size_t portion_index(const design::Design& design, const std::string& id);

}  // namespace foreslice::studio
