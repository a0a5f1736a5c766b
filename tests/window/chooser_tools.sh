# What the tests of the desktop's file choosers share; to be read by them in their work folder, which holds
# design.foreslice.json. $studio: the program.

sed 's/"Quick Tender"/"Chosen Elsewhere"/' design.foreslice.json >"été tide.foreslice.json"
# The person chooses none: the studio stays as it is.
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
# A path with a blank and an accent.
cat >chooser-2.txt <<'END'
wait-for face
key ctrl+o
wait-for dialog:system
click dialog:system
expect json /name Chosen Elsewhere
expect unsaved no
quit
END
# A variant goes to a collection; once there is one, it is added to.
for turn in begun added; do
    cat >"collection-$turn.txt" <<END
wait-for face
key f8
key ctrl+b
wait-for variant:1
click variant:1
key f2
key ctrl+a
type the one $turn
key enter
key ctrl+l
wait-for dialog:system
screenshot send-$turn.png
click dialog:system
expect text notice the collection
quit
END
done

# in_studio SCRIPT
in_studio() { "$studio" design.foreslice.json --size 1280x720 --script "$1" --state-folder state; }
SDL_VIDEODRIVER=offscreen
PATH=$work/bin:$PATH
export SDL_VIDEODRIVER PATH
