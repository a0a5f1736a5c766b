#!/bin/sh
# Without a display the studio says so and ends; it must not open a window that nobody sees.
unset DISPLAY WAYLAND_DISPLAY SDL_VIDEODRIVER
said=$("$1" 2>&1)
code=$?
echo "$said"
[ "$code" -eq 1 ] || { echo "exit code $code instead of 1"; exit 1; }
case "$said" in *"no display"*) exit 0 ;; esac
echo "the sentence does not say that there is no display"
exit 1
