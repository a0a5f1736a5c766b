#!/bin/sh
# The desktop session ends while somebody works: by a signal, or by its display going away. Nobody can answer a
# question then; the studio ends within two seconds, and the next start offers what was not saved, to the last edit.
#   session_end.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
. "$(dirname "$0")/script_tools.sh"
rm -rf "$work" && mkdir -p "$work" && cd "$work" || exit 1
unset WAYLAND_DISPLAY
SDL_VIDEODRIVER=offscreen
export SDL_VIDEODRIVER

# Edits right up to the end: the first is kept safe at once, the next ones only after three seconds.
edits='wait-for face
click step:tint
click dose:white:more
click dose:white:more
click dose:white:more
click dose:white:more'

# begin NAME: the design in a folder of its own, and the script "edits.txt" running on it.
begin() {
    mkdir -p "$work/$1/state" && cd "$work/$1" && cp "$design" design.foreslice.json || exit 1
    cat >edits.txt
    # A job in the background ignores an interrupt; the studio must not begin so.
    env --default-signal=INT,HUP,TERM \
        "$studio" design.foreslice.json --size 1280x720 --script edits.txt --state-folder state --frame-log >edits.log 2>&1 &
    program=$!
    await edited edits.log
}

# ended NAME CODE: it does so by itself, and in time.
ended() {
    tries=40
    while kill -0 "$program" 2>/dev/null; do
        tries=$((tries - 1))
        [ "$tries" -gt 0 ] || { echo "$1: still there after two seconds"; kill -9 "$program"; exit 1; }
        sleep 0.05
    done
    wait "$program"
    code=$?
    [ "$code" -eq "$2" ] || { echo "$1: the studio ended with $code"; cat edits.log; exit 1; }
}

# came_back NAME: the dose that was seen last.
came_back() {
    cat >back.txt <<'END'
wait-for recovery:take
click recovery:take
expect unsaved yes
click step:tint
wait-for dose:white
dump-widgets recovered
quit
END
    SDL_VIDEODRIVER=offscreen "$studio" design.foreslice.json --size 1280x720 --script back.txt --state-folder state || exit 1
    dose() { awk -F '\t' '$1 == "dose:white" { print $4 }' "$1"; }
    [ -n "$(dose edited)" ] && [ "$(dose edited)" = "$(dose recovered)" ] ||
        { echo "$1: $(dose edited) g/kg became $(dose recovered)"; exit 1; }
}

for signal in TERM HUP INT; do
    begin $signal <<END
$edits
dump-widgets edited
wait-for never
END
    kill -s $signal "$program"
    ended $signal 0
    came_back $signal
done

# In the middle of the question about unsaved changes, with a second design that has some too.
cp "$design" "$work/other.foreslice.json"
begin question <<END
$edits
drop ../other.foreslice.json
wait-for design:0
click step:tint
click dose:white:more
click dose:white:more
key ctrl+q
wait-for unsaved:cancel
dump-widgets edited
wait-for never
END
kill -s TERM "$program"
ended question 0
for copy in .design.foreslice.json.autosave ../.other.foreslice.json.autosave; do
    [ -f "$copy" ] || { echo "no $copy"; ls -a . ..; exit 1; }
done

# While everything is being drawn at once: a fine face, every order of the layers, a picture.
begin busy <<END
$edits
key ctrl+t
click dose:white:more
dump-widgets edited
key ctrl+e
wait-for dialog:accept
click dialog:accept
wait-for never
END
kill -s TERM "$program"
ended busy 0
came_back busy

# The display goes away under the window.
if command -v Xvfb >/dev/null; then
    exec 3>"$work/display.txt"
    Xvfb -displayfd 3 -screen 0 1280x800x24 2>/dev/null &
    display=$!
    tries=100
    until [ -s "$work/display.txt" ]; do
        tries=$((tries - 1))
        [ "$tries" -gt 0 ] || { echo "no display came up"; exit 1; }
        sleep 0.1
    done
    DISPLAY=:$(cat "$work/display.txt")
    SDL_VIDEODRIVER=x11
    export DISPLAY
    begin display <<END
$edits
dump-widgets edited
wait-for never
END
    kill "$display"
    ended display 1  # by the hand of Xlib, which knows no other way
    came_back display
fi
