#!/bin/sh
# The desktop portal's file chooser on a bus of its own: a stand-in answers with a path that has a blank and an
# accent, and the studio opens that file; it stays as it is when the person chooses none; and where the bus has
# no portal, the chooser that is a program of its own takes over.
#   portal.sh STUDIO DESIGN WORK_FOLDER FAKE_PORTAL
set -u
studio=$1 design=$2 work=$3 portal=$4
tools=$(cd "$(dirname "$0")" && pwd)/chooser_tools.sh
if [ "${5:-}" != inside ]; then
    rm -rf "$work" && mkdir -p "$work/state" "$work/bin" && cp "$design" "$work/design.foreslice.json" || exit 1
    exec dbus-run-session -- sh "$0" "$studio" "$design" "$work" "$portal" inside
fi
cd "$work" || exit 1
. "$tools"
"$portal" asked.txt answer.txt >portal.log &
helper=$!
tries=100
until grep -q ready portal.log 2>/dev/null; do
    tries=$((tries - 1))
    [ "$tries" -gt 0 ] || { echo "the stand-in portal did not come up"; kill "$helper"; exit 1; }
    sleep 0.1
done
in_studio chooser.txt || { kill "$helper"; exit 1; }
grep -q -x OpenFile asked.txt || { echo "the portal was asked for something else:"; cat asked.txt; kill "$helper"; exit 1; }
echo "file://$work/%C3%A9t%C3%A9%20tide.foreslice.json" >answer.txt
in_studio chooser-2.txt || { kill "$helper"; exit 1; }
mkdir elsewhere
echo "file://$work/elsewhere/harbour.collection.json" >answer.txt
in_studio collection-begun.txt || { kill "$helper"; exit 1; }
grep -q -x SaveFile asked.txt || { echo "a new collection was not asked for:"; cat asked.txt; kill "$helper"; exit 1; }
in_studio collection-added.txt || { kill "$helper"; exit 1; }
grep -q -x OpenFile asked.txt || { echo "adding to a collection counts as writing over it"; kill "$helper"; exit 1; }
kill "$helper"
wait "$helper" 2>/dev/null

# No portal on the bus: zenity's turn.
cat >bin/zenity <<'END'
#!/bin/sh
touch zenity-was-asked
cat answer-2.txt
END
chmod +x bin/zenity
echo "$work/été tide.foreslice.json" >answer-2.txt
in_studio chooser-2.txt || exit 1
[ -f zenity-was-asked ] || { echo "without a portal no program was asked"; exit 1; }
