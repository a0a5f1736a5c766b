#include <doctest/doctest.h>

#include "design/history.h"
#include "design/samples.h"

using namespace foreslice::design;

namespace {

Design named(const std::string& name) {
    Design design = samples::plain();
    design.name = name;
    return design;
}

}  // namespace

TEST_CASE("history: undo and redo walk through whole documents") {
    History history(named("a"));
    CHECK_FALSE(history.can_undo());
    CHECK(history.undo_label() == "");
    history.edit(named("b"), "rename to b");
    history.edit(named("c"), "rename to c");
    CHECK(history.undo_label() == "rename to c");
    CHECK(history.undo().name == "b");
    CHECK(history.redo_label() == "rename to c");
    CHECK(history.undo().name == "a");
    CHECK(history.undo().name == "a");  // nothing more to take back
    CHECK(history.redo().name == "b");
    CHECK(history.redo().name == "c");
    CHECK(history.redo().name == "c");
    CHECK_FALSE(history.can_redo());
}

TEST_CASE("history: an edit after undo drops what could be redone") {
    History history(named("a"));
    history.edit(named("b"), "b");
    history.edit(named("c"), "c");
    history.undo();
    history.edit(named("d"), "d");
    CHECK_FALSE(history.can_redo());
    CHECK(history.undo().name == "b");
    CHECK(history.redo().name == "d");
}

TEST_CASE("history: a drag is one step") {
    History history(named("a"));
    for (const char* name : {"b", "c", "d"}) history.edit(named(name), "drag", "dose 1");
    CHECK(history.current().name == "d");
    CHECK(history.undo().name == "a");
    CHECK(history.redo().name == "d");
    history.edit(named("e"), "drag", "dose 1");  // a new drag after redo is a new step
    CHECK(history.undo().name == "d");
}

TEST_CASE("history: another key, no key or close_step end a run") {
    History history(named("a"));
    history.edit(named("b"), "one", "k1");
    history.edit(named("c"), "two", "k2");
    history.edit(named("d"), "two", "k2");
    history.close_step();
    history.edit(named("e"), "three", "k2");
    history.edit(named("f"), "four");
    history.edit(named("g"), "five");
    for (const char* name : {"f", "e", "d", "b", "a"}) CHECK(history.undo().name == name);
    CHECK_FALSE(history.can_undo());
}

TEST_CASE("history: an edit that changes nothing is no step, nor is a drag that comes back") {
    History history(named("a"));
    history.edit(named("a"), "nothing");
    CHECK_FALSE(history.can_undo());
    history.edit(named("b"), "drag", "k");
    history.edit(named("a"), "drag", "k");
    history.close_step();
    CHECK_FALSE(history.can_undo());
    CHECK_FALSE(history.changed_since_saved());
}

TEST_CASE("history: knows whether the saved document is the current one") {
    History history(named("a"));
    CHECK_FALSE(history.changed_since_saved());
    history.edit(named("b"), "b", "k");
    CHECK(history.changed_since_saved());
    history.mark_saved();
    history.edit(named("c"), "c", "k");  // the drag goes on after the save
    CHECK(history.changed_since_saved());
    CHECK(history.undo().name == "b");
    CHECK_FALSE(history.changed_since_saved());
    history.undo();
    history.edit(named("d"), "d");  // the saved state is gone for good
    CHECK(history.changed_since_saved());
    history.undo();
    CHECK(history.changed_since_saved());
}

TEST_CASE("history: everything of a long evening can be undone, to what was saved") {
    History history(named("0"));
    for (int i = 1; i <= 20000; ++i) history.edit(named(std::to_string(i)), "step");
    int steps = 0;
    while (history.can_undo()) {
        history.undo();
        ++steps;
    }
    CHECK(steps == 20000);
    CHECK(history.current().name == "0");
    CHECK_FALSE(history.changed_since_saved());
}
