#!/bin/sh
# The power goes out while somebody works: the program is killed in the middle of edits, and the next start has
# nothing older than five seconds lost. No display needed.
#   kill.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
. "$(dirname "$0")/script_tools.sh"
rm -rf "$work" && mkdir -p "$work/state" && cp "$design" "$work/design.foreslice.json" || exit 1
cd "$work" || exit 1
SDL_VIDEODRIVER=offscreen
export SDL_VIDEODRIVER

# Presses the plus of a dose again and again; the file "pressed" says that enough of it is done.
{
    echo "wait-for face"
    echo "click step:tint"
    i=0
    while [ "$i" -lt 400 ]; do
        echo "click dose:white:more"
        i=$((i + 1))
        [ "$i" -eq 30 ] && echo "wait-for-file .design.foreslice.json.autosave"
        [ "$i" -eq 40 ] && echo "dump-widgets pressed"
    done
    echo "wait-for never"
} >edits.txt
"$studio" design.foreslice.json --size 1280x720 --script edits.txt --state-folder state 2>edits.log &
program=$!
await pressed edits.log
sleep 5
kill -9 "$program"
wait "$program" 2>/dev/null

# At least what was there when "pressed" was written, five seconds before: 40 presses of half a gram.
cat >back.txt <<'END'
wait-for recovery:take
click recovery:take
expect unsaved yes
click step:tint
dump-widgets recovered
quit
END
"$studio" design.foreslice.json --size 1280x720 --script back.txt --state-folder state || exit 1
before=$(awk -F '\t' '$1 == "dose:white" { print $4 + 0 }' pressed)
after=$(awk -F '\t' '$1 == "dose:white" { print $4 + 0 }' recovered)
echo "before the last five seconds $before g/kg, brought back $after g/kg"
awk -v a="$after" -v b="$before" 'BEGIN { exit !(a >= b && b > 0) }' || { echo "work was lost"; exit 1; }
