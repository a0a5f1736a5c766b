#!/bin/sh
# The desktop's own file chooser: a stand-in of its name answers with a path that has a blank and an accent; the
# studio opens that file, and stays as it is when the person chooses none.
#   system_dialog.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
rm -rf "$work" && mkdir -p "$work/state" "$work/bin" && cp "$design" "$work/design.foreslice.json" || exit 1
cd "$work" || exit 1
sed 's/"Quick Tender"/"Chosen Elsewhere"/' design.foreslice.json >"été tide.foreslice.json"
cat >bin/zenity <<'END'
#!/bin/sh
printf '%s\n' "$@" >asked.txt
sleep 0.3
[ -f answer.txt ] || exit 1
cat answer.txt
END
chmod +x bin/zenity
cat >chooser.txt <<'END'
wait-for face
key ctrl+o
wait-for dialog:system
click dialog:system
wait-for-file asked.txt
frames 40
expect shown dialog:cancel
key escape
expect json /name Quick Tender
quit
END
cat >chooser-2.txt <<'END'
wait-for face
key ctrl+o
wait-for dialog:system
click dialog:system
expect json /name Chosen Elsewhere
expect unsaved no
quit
END
# No bus, so that no portal is asked first.
unset DBUS_SESSION_BUS_ADDRESS XDG_RUNTIME_DIR
SDL_VIDEODRIVER=offscreen
PATH=$work/bin:$PATH
export SDL_VIDEODRIVER PATH
"$studio" design.foreslice.json --size 1280x720 --script chooser.txt --state-folder state || exit 1
grep -q -e --file-selection asked.txt || { echo "the chooser was asked for something else:"; cat asked.txt; exit 1; }
echo "$work/été tide.foreslice.json" >answer.txt
"$studio" design.foreslice.json --size 1280x720 --script chooser-2.txt --state-folder state
