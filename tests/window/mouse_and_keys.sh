#!/bin/sh
# A person's test: a virtual display, the real program, a real mouse and keyboard. Changes a dose and sees the
# picture change, on the screen and in what the program says. Waits by looking, never by sleeping blindly.
#   mouse_and_keys.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
. "$(dirname "$0")/mouse_tools.sh"
inside_a_display

face_picture() {
    corners=$(awk -F '\t' '$1 == "face" { print $2 }' widgets.txt)
    # shellcheck disable=SC2086 # four numbers
    set -- $corners
    import -window "$window" -crop "$(($3 - $1))x$(($4 - $2))+$1+$2" +repage "$picture"
}
changed_pixels() { compare -metric AE -fuzz 3% "$1" "$2" null: 2>&1 | sed 's/[^0-9].*//'; }

start_studio
before=$(value_of face)
picture=before.png && face_picture || fail "no picture of the face"

click step:tint
until_true 20 shows step:tint chosen || fail "the step was not chosen by the mouse"
click dose:white
until_true 20 shows dose:white "0 g/kg" || fail "the dose is not 0 to begin with"
xdotool type --delay 30 "15"
until_true 20 shows dose:white "15" || fail "the typed dose did not arrive"
xdotool key --delay 30 Return
until_true 20 says unsaved yes || fail "the design does not count as changed"
until_true 240 says current yes || fail "the new face was not finished in time"
[ "$(value_of face)" != "$before" ] || fail "the face is the same after another dose"
picture=after.png && face_picture || fail "no second picture of the face"
pixels=$(changed_pixels before.png after.png)
[ "${pixels:-0}" -gt 5000 ] || fail "only ${pixels:-0} pixels of the face changed on the screen"

xdotool key --delay 30 ctrl+z
until_true 20 says unsaved no || fail "undo did not bring the saved state back"
until_true 240 says face "$before" || fail "undo did not bring the old face back"

# A drag over a number changes it, and letting go ends the step.
click step:wire
until_true 20 shown passes:count || fail "the wire's controls did not come"
# shellcheck disable=SC2046
xdotool mousemove --window "$window" $(middle_of passes:count) mousedown 1
for _ in 1 2 3 4; do xdotool mousemove_relative --sync -- 6 0; done
xdotool mouseup 1
until_true 20 says unsaved yes || fail "dragging a number did not change it"
xdotool key --delay 30 ctrl+z
until_true 20 says unsaved no || fail "a drag is more than one step"

xdotool key --delay 30 ctrl+q
until_true 20 eval '! kill -0 "$program" 2>/dev/null' || fail "the studio did not close"
wait "$program"
code=$?
[ "$code" -eq 0 ] || { echo "the studio ended with $code"; exit 1; }
echo "$pixels pixels of the face changed with the dose"
