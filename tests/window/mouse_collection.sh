#!/bin/sh
# A whole collection in one window, by a real mouse and keyboard on a virtual display: all its designs open at
# once, those without room in the title stand in a list, a stroke is drawn before the last layer is poured over
# it, and a second window is heard of.
#   mouse_collection.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
. "$(dirname "$0")/mouse_tools.sh"
inside_a_display

cd "$work" || exit 1
members=
for name in one two three four five six seven eight nine; do
    sed "s/Quick Tender/Tender number $name/" design.foreslice.json >"$name.foreslice.json"
    members="$members${members:+, }{ \"file\": \"$name.foreslice.json\" }"
done
printf '{ "format": "foreslice collection", "version": 1, "name": "Nine tenders", "designs": [%s] }\n' "$members" \
    >nine.collection.json
start_studio nine.collection.json
until_true 20 shows notice "9 designs of Nine tenders are open." || fail "it does not say what is open"
[ "$(value_of file)" = one.foreslice.json ] || fail "the first design is not the one looked at"

click design:more
click design:8
until_true 20 says file nine.foreslice.json || fail "the list does not lead to the ninth design"
until_true 240 says current yes || fail "the face was not finished in time"

before=$(value_of face)
click step:wire
click stroke:moment
click stroke:moment/2
until_true 20 says unsaved yes || fail "the stroke's moment did not change"
until_true 240 says current yes || fail "the new face was not finished in time"
[ "$(value_of face)" != "$before" ] || fail "the face is the same though the last layer lies over the stroke"
press ctrl+s
until_true 20 says unsaved no || fail "it was not saved"
grep -q '"after_pours": 2' nine.foreslice.json || fail "the file does not say when the stroke is drawn"
grep -q after_pours one.foreslice.json && fail "another design of the collection was changed"

# Another window on the same design: this one says so within a few seconds, without being touched.
SDL_VIDEODRIVER=offscreen "$studio" nine.foreslice.json --size 1280x800 --state-folder state --widgets other.txt 2>other.log &
other=$!
told() { awk -F '\t' '$1 == "notice"' widgets.txt | grep -q "nine.foreslice.json was opened in another window too"; }
until_true 60 told || { kill "$other"; fail "the first window was not told of the second"; }
kill "$other" "$program"
wait
