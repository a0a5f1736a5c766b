#!/bin/sh
# Every page of the studio against a picture of it that was looked at and kept. The new ones stay in the work
# folder. "keep" as the last word renews the kept ones: look at them first.
#   kept_pictures.sh STUDIO DESIGN WORK_FOLDER COMPARE GOLDEN_FOLDER [keep]
set -u
studio=$1 design=$2 work=$3 compare=$4 golden=$5
pages="face wiper bar loaf top board"
rm -rf "$work" && mkdir -p "$work/state" && cp "$design" "$work/design.foreslice.json" || exit 1
cd "$work" || exit 1
cat >pages.txt <<'END'
wait-for face
hover title
frames 3
screenshot face.png
click page:wiper
wait-for wiper
wait-for face
hover title
frames 3
screenshot wiper.png
click page:bar
wait-for bar-picture
wait-for face
hover title
frames 3
screenshot bar.png
click page:loaf
wait-for loaf-bar:4
wait-for face
hover title
frames 3
screenshot loaf.png
click page:top
expect text top-picture current
wait-for face
hover title
frames 3
screenshot top.png
key f8
click step:tint
click dose:white
key ctrl+a
type 12
key enter
key f8
click page:board
wait-for variant:2
click variant:1
click variant:2
expect text board:words contrast
wait-for face
hover title
frames 40
screenshot board.png
quit
END
SDL_VIDEODRIVER=offscreen "$studio" design.foreslice.json --size 1280x720 --script pages.txt --state-folder state || exit 1
if [ "${6:-}" = keep ]; then
    for page in $pages; do "$compare" --keep $page.png "$golden/studio-$page.png" || exit 1; done
    exit 0
fi
failed=0
for page in $pages; do
    echo "$page: $("$compare" "$golden/studio-$page.png" $page.png)"
    "$compare" "$golden/studio-$page.png" $page.png >/dev/null || failed=1
done
# The comparison itself: one page is not taken for another.
if "$compare" "$golden/studio-face.png" wiper.png >/dev/null; then
    echo "another page counts as alike"
    failed=1
fi
rm -f .design.foreslice.json.autosave
# The white soap at the bar's left edge meets the paper without dark specks, with shaders and without.
cat >bar.txt <<'END'
wait-for face
click page:bar
wait-for bar-picture
wait-for face
frames 3
expect text bar-picture on the processor
screenshot bar-on-processor.png
quit
END
MESA_GL_VERSION_OVERRIDE=2.1 MESA_GLSL_VERSION_OVERRIDE=120 SDL_VIDEODRIVER=offscreen \
    "$studio" design.foreslice.json --size 1280x720 --script bar.txt --state-folder state || exit 1
for picture in bar bar-on-processor; do
    "$compare" --outline $picture.png 258 305 290 380 || failed=1
done
exit $failed
