// The compare board of the open designs: the part of the session that keeps it and takes designs from it.
#include <system_error>
#include <utility>

#include "foundation/error.h"
#include "studio/session/collection_sending.h"
#include "studio/session/session.h"

namespace foreslice::studio {
namespace fs = std::filesystem;

void Session::change_board(Board next) {
    if (next == now().board) return;
    now().board = std::move(next);
    now().board_due = true;
    now().board_stamp = ++board_stamps_;
    // Without a file, board and design are found again together.
    if (now().file.empty()) now().autosave_due = true;
}

void Session::take_variant(int number) {
    const Variant* variant = board().find(number);
    if (!variant) return;
    now().history.close_step();
    edit(variant->design, "open “" + variant->name + "” from the board");
    now().history.close_step();
}

void Session::find_board() {
    const bool begun = std::exchange(now().begun, false);
    now().board = {};
    now().board_known = {};
    now().board_due = false;
    now().board_stamp = ++board_stamps_;
    if (begun && !now().recovery) return;
    try {
        now().board = load_board(board_file(now().file, setup_.state_folder, now().seat.number));
        now().board_known = now().board;
    } catch (const InputError& problem) {
        add_notice({true, problem.what()});
    }
}

void Session::keep_board(Document& document) {
    if (!std::exchange(document.board_due, false)) return;
    const fs::path file = board_file(document.file, setup_.state_folder, document.seat.number);
    disk_.run_errand([this, copy = document.board,
                      known = std::exchange(document.board_known, document.board), file](Progress&) {
        try {
            save_board(copy, known, file);
        } catch (const std::exception& error) {
            board_again_ = true;
            if (trouble_told_.exchange(true)) return;
            add_notice({true, std::string("The compare board cannot be kept: ") + error.what() +
                                  ". It is tried again."});
            setup_.wake();
        }
    });
}

// To be called when nothing is being written.
void Session::forget_unnamed_board() {
    if (!now().file.empty()) return;
    std::error_code ignored;
    fs::remove(board_file({}, setup_.state_folder, now().seat.number), ignored);
}

void Session::send_to_collection(design::Design design, const fs::path& collection) {
    std::error_code error;
    const fs::path full = fs::absolute(collection, error);
    settings_.collection = error ? collection : full;
    save_settings();
    disk_.run_errand([this, design = std::move(design), collection, library = shared_library()](Progress&) {
        try {
            const Sent sent = add_to_collection(design, collection, *library);
            add_notice({false, sentence_of(sent)});
        } catch (const std::exception& problem) {
            add_notice({true, std::string("Nothing was sent: ") + problem.what()});
        }
        setup_.wake();
    });
}

}  // namespace foreslice::studio
