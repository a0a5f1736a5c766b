#!/bin/bash
# An evening at the studio, over and over: open a design, change it, undo, look at it in every way, draw a picture
# of it, put it away. Its memory is measured after each round and must stay flat. No display needed.
#   soak.sh STUDIO DATA_FOLDER WORK_FOLDER ROUNDS [PACE_S]
# A round takes PACE_S seconds at least (0), as somebody who looks before the next click; a short run is a test,
# `./run soak` a long one. What was measured stands in WORK_FOLDER/memory.tsv: round, seconds since the start,
# resident KiB.
set -u
studio=$1 data=$2 work=$3 rounds=$4 pace_s=${5:-0}
rm -rf "$work" && mkdir -p "$work/state" || exit 1
cp "$data/quick.foreslice.json" "$work/quick.foreslice.json" || exit 1
cp "$data/quick.foreslice.json" "$work/other.foreslice.json" || exit 1
cd "$work" || exit 1
export SDL_VIDEODRIVER=offscreen
# A long run draws every frame; a test as few as other scripts do.
drawn=
[ "$rounds" -le 12 ] || drawn=--frame-log

one_round() {  # number
    cat <<END
drop other.foreslice.json
wait-for face
click step:tint
click dose:white:more
click dose:white:more
wait-for face
key ctrl+z
key ctrl+y
click step:pour
click down:2
wait-for face
key ctrl+z
click step:cut
click page:wiper
wait-for wiper
click page:loaf
frames 60
click page:bar
wait-for bar-picture
drag bar-view 60 20
click page:pair
key pageup
key ctrl+e
wait-for dialog:accept
click dialog:accept
END
    [ "$1" -eq 1 ] || echo "click dialog:accept"  # the picture is there already: the second press replaces it
    cat <<END
expect text notice other.png
key ctrl+w
wait-for unsaved:lose
click unsaved:lose
expect json /name Quick Tender
wait-for face
dump-widgets round-$1
wait-for-file go-on-$1
END
}

{
    echo "wait-for face"
    for ((round = 1; round <= rounds; round++)); do one_round "$round"; done
    echo "quit"
} >soak.txt
"$studio" quick.foreslice.json --size 1280x720 --script soak.txt --state-folder state $drawn 2>soak.log &
program=$!
started=$SECONDS
: >memory.tsv
for ((round = 1; round <= rounds; round++)); do
    while [ ! -f "round-$round" ]; do
        kill -0 "$program" 2>/dev/null || { echo "the studio ended in round $round"; cat soak.log; exit 1; }
        sleep 0.2
    done
    resident=$(sed -n 's/^VmRSS:[^0-9]*\([0-9]*\).*/\1/p' "/proc/$program/status")
    printf '%s\t%s\t%s\n' "$round" "$((SECONDS - started))" "$resident" >>memory.tsv
    rm "round-$round"
    rest=$((round * pace_s - SECONDS + started))
    [ "$rest" -le 0 ] || sleep "$rest"
    : >"go-on-$round"
done
wait "$program" || { echo "the studio ended with $?"; cat soak.log; exit 1; }
rm -f go-on-*

# Flat: the middle of the last third lies at most 5 % and 4 MB above the middle of the third before it. What the
# first rounds take (fonts, kept flows) comes before that.
middle() { sort -n | awk '{v[NR] = $1} END {print v[int((NR + 1) / 2)]}'; }
third=$((rounds / 3))
before=$(sed -n "$((third + 1)),$((2 * third))p" memory.tsv | cut -f3 | middle)
after=$(sed -n "$((rounds - third + 1)),${rounds}p" memory.tsv | cut -f3 | middle)
echo "$rounds rounds, $((SECONDS - started)) s: $((before / 1024)) MiB in the middle third, $((after / 1024)) MiB in the last"
[ "$after" -le $((before + before / 20 + 4096)) ] || { echo "the memory grows"; exit 1; }
