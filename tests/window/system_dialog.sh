#!/bin/sh
# The desktop's own file chooser: a stand-in of its name answers with a path that has a blank and an accent; the
# studio opens that file, and stays as it is when the person chooses none. A collection is chosen in the same way.
#   system_dialog.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
tools=$(cd "$(dirname "$0")" && pwd)/chooser_tools.sh
rm -rf "$work" && mkdir -p "$work/state" "$work/bin" && cp "$design" "$work/design.foreslice.json" || exit 1
cd "$work" || exit 1
. "$tools"
cat >bin/zenity <<'END'
#!/bin/sh
printf '%s\n' "$@" >asked.txt
sleep 0.3
[ -f answer.txt ] || exit 1
cat answer.txt
END
chmod +x bin/zenity
# No bus, so that no portal is asked first.
unset DBUS_SESSION_BUS_ADDRESS XDG_RUNTIME_DIR
in_studio chooser.txt || exit 1
grep -q -e --file-selection asked.txt || { echo "the chooser was asked for something else:"; cat asked.txt; exit 1; }
echo "$work/été tide.foreslice.json" >answer.txt
in_studio chooser-2.txt || exit 1

mkdir elsewhere
echo "$work/elsewhere/harbour.collection.json" >answer.txt
in_studio collection-begun.txt || exit 1
grep -q -x -e --save asked.txt || { echo "a new collection was not asked for:"; cat asked.txt; exit 1; }
in_studio collection-added.txt || exit 1
if grep -q -x -e --save asked.txt; then echo "adding to a collection counts as writing over it"; exit 1; fi
for turn in begun added; do
    grep -q "the-one-$turn" elsewhere/harbour.collection.json || { echo "one is not in it: $turn"; exit 1; }
done

# Nobody waits for an answer once the dialog is put away: it must not become that of the next one.
cat >bin/zenity <<'END'
#!/bin/sh
echo $$ >opened.txt
exec sleep 600
END
cat >left.txt <<'END'
wait-for face
key ctrl+o
wait-for dialog:system
click dialog:system
wait-for-file opened.txt
key escape
frames 5
key ctrl+shift+s
wait-for dialog:system
key escape
quit
END
in_studio left.txt || exit 1
if kill -0 "$(cat opened.txt)" 2>/dev/null; then echo "the chooser is still open"; exit 1; fi
