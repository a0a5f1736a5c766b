#!/bin/sh
# A person's evening at the compare board, with a real mouse and keyboard on a virtual display: pins, stars,
# names, compares, opens, takes off and puts back; tries every order of the layers; then the panels of measures,
# colour and bench.
#   mouse_board.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
. "$(dirname "$0")/mouse_tools.sh"
inside_a_display
start_studio

click page:board
until_true 20 shown board:empty || fail "the empty board does not say that it is empty"
press F8
until_true 20 shown variant:1 || fail "F8 pinned nothing"
click step:tint
click dose:white
xdotool type --delay 30 "18"
press Return
until_true 20 says unsaved yes || fail "the dose was not typed"
click board:pin
until_true 20 shown variant:2 || fail "the button pinned nothing"
click variant:1:star
until_true 20 shows variant:1:star starred || fail "the star was not given"
click variant:1
until_true 20 shown board:name || fail "no name field for the chosen variant"
click variant:2
until_true 60 has_text board:words "18 g/kg" || fail "the difference of the two is not in words"
until_true 120 has_text board:words "contrast" || fail "the measures of the two are not in words"
press ctrl+d
until_true 60 has_text compare:words "18 g/kg" || fail "the two are not shown side by side"
import -window root compared.png
click compare:open:A
until_true 20 shows dose:white "0 g/kg" || fail "the first variant did not take the design's place"
press ctrl+z
until_true 20 shows dose:white "18 g/kg" || fail "opening a variant cannot be undone"

# By keys alone: back to the board, one of the two let go, a name, the wastebasket and back.
press ctrl+b
until_true 20 shown variant:2 || fail "Ctrl+B does not show the board"
click variant:1
until_true 20 shown board:name || fail "one of the two cannot be let go"
press F2
xdotool key --delay 60 ctrl+a
xdotool type --delay 30 "late ferry"
until_true 20 shows variant:2 "late ferry" || fail "the name was not taken"
press Return
# The field has the keyboard until the next frame.
until_true 20 eval 'press Delete; shown board:put-back' || fail "Delete does not take the variant off"
click board:put-back
until_true 20 shows variant:2 "late ferry" || fail "it was not put back"

press ctrl+t
until_true 120 shown order:1 || fail "the orders of the layers did not come"
click order:2
until_true 20 has_text order:2 "2" || fail "the second order has no card"
press ctrl+b
until_true 20 shown variant:3 || fail "an order cannot be pinned"
import -window root board.png

# Measures, colour, bench.
click page:pair
click step:cut
scroll_to measure:muddy || fail "the measures are not shown"
until_true 240 has_text measures current || fail "the measures are not of this face"
click step:tint
scroll_to reach || fail "the reach of a dose with white is not shown"
click reach
until_true 20 says current no || until_true 20 says current yes || fail "a click on the reach does nothing"
press ctrl+z
click step:batter
scroll_to bench:start || fail "the bench is not shown"
click bench:start
scroll_to bench:batter || fail "no weights after a recipe was begun"
has_text bench:batter " g" || fail "the batter has no weight"
import -window root bench.png
press F9
until_true 20 shown look:morning || fail "F9 does not open the look"
press Escape
until_true 20 eval '! shown look:morning' || fail "Escape does not close the look"

press ctrl+s
until_true 20 says unsaved no || fail "Ctrl+S does not save"
press ctrl+q
until_true 20 eval '! kill -0 "$program" 2>/dev/null' || fail "the studio did not close"
wait "$program" || { echo "the studio ended with $?"; exit 1; }
ls state/*.board.json >/dev/null || { echo "the board was not kept"; exit 1; }
