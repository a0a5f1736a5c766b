# What tests with a real mouse share; to be read by them with their own arguments, which $studio, $design and $work
# are. $program: the studio, which keeps widgets.txt up to date; $window: its window.

# Goes on, the second time round, inside a virtual display of its own; to be called first.
inside_a_display() {
    [ "${inside:-}" = yes ] && return
    rm -rf "$work" && mkdir -p "$work/state" && cp "$design" "$work/design.foreslice.json" || exit 1
    # Not exec: xvfb-run waits for a signal that Xvfb does not send to process 1.
    unset SDL_VIDEODRIVER WAYLAND_DISPLAY
    inside=yes xvfb-run -a -s "-screen 0 1280x800x24" sh "$0" "$studio" "$design" "$work"
    exit $?
}

# Opens the design, or another file there; returns when its face is finished.
start_studio() {
    cd "$work" || exit 1
    "$studio" "${1:-design.foreslice.json}" --size 1280x800 --state-folder state --widgets widgets.txt 2>studio.log &
    program=$!
    window=$(xdotool search --sync --onlyvisible --name Foreslice | head -n 1)
    [ -n "$window" ] || fail "no window came up"
    xdotool windowfocus "$window"
    until_true 240 says current yes || fail "the face was not finished in time"
}

fail() {
    echo "failed: $1"
    import -window root failed.png
    cat studio.log
    kill "$program" 2>/dev/null
    exit 1
}

# until_true SECONDS COMMAND...: looks ten times a second.
until_true() {
    tries=$(($1 * 10))
    shift
    while [ "$tries" -gt 0 ]; do
        "$@" && return 0
        kill -0 "$program" 2>/dev/null || return 1
        tries=$((tries - 1))
        sleep 0.1
    done
    return 1
}

says() { [ -f widgets.txt ] && grep -q "^=$1	$2\$" widgets.txt; }
value_of() { sed -n "s/^=$1	//p" widgets.txt; }
shown() { [ -f widgets.txt ] && cut -f1 widgets.txt | grep -qxF "$1"; }
shows() { [ -f widgets.txt ] && awk -F '\t' -v name="$1" -v text="$2" '$1 == name && $4 == text { found = 1 } END { exit !found }' widgets.txt; }
# The middle of a widget, as "X Y".
middle_of() {
    awk -F '\t' -v name="$1" '$1 == name { split($2, at, " "); print int((at[1] + at[3]) / 2), int((at[2] + at[4]) / 2) }' widgets.txt
}
click() {
    until_true 20 shown "$1" || fail "there is no $1 to click on"
    # shellcheck disable=SC2046 # two words on purpose
    xdotool mousemove --window "$window" $(middle_of "$1") click 1
}
# Presses a key combination.
press() { xdotool key --delay 30 "$1"; }
# How a widget's text begins, or what is in it.
text_of() { awk -F '\t' -v name="$1" '$1 == name { print $4 }' widgets.txt; }
has_text() { text_of "$1" | grep -qF "$2"; }
# Turns the wheel over the controls on the right until a widget of theirs is in sight.
scroll_to() {
    tries=60
    until shown "$1"; do
        tries=$((tries - 1))
        [ "$tries" -gt 0 ] || return 1
        xdotool mousemove --window "$window" 1075 400 click 5
        sleep 0.2
    done
}
