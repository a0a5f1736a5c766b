#!/bin/sh
# What can go wrong round the studio while it starts or runs: the graphics card is reset, its fonts are gone, the
# maker's own colourants cannot be read. It goes on, says so, and loses nothing. No display needed.
#   mishaps.sh STUDIO SOURCE_FOLDER WORK_FOLDER
set -u
studio=$1 source=$2 work=$3
rm -rf "$work" && mkdir -p "$work/state" && cd "$work" || exit 1
cp "$source/tests/data/window/quick.foreslice.json" .
export SDL_VIDEODRIVER=offscreen

run() {  # run SCRIPT WORDS...
    "$studio" quick.foreslice.json --size 1280x720 --state-folder state --script "$1" 2>"$1.log" ||
        { echo "$1: the studio ended with $?"; cat "$1.log"; exit 1; }
}

# The card is reset: the same pixels stand there again, of the face as of the bar in the light. The first reset
# only brings the notice that is in both pictures of a pair.
cat >reset.txt <<END
wait-for face
click step:tint
click dose:white:more
wait-for face
lose-graphics
frames 10
expect text notice graphics card was reset
screenshot face-1.png
lose-graphics
frames 10
screenshot face-2.png
click page:bar
wait-for bar-picture
wait-for face
frames 10
lose-graphics
frames 10
screenshot bar-1.png
lose-graphics
frames 10
screenshot bar-2.png
expect unsaved yes
quit
END
run reset.txt
for picture in face bar; do
    cmp "$picture-1.png" "$picture-2.png" || { echo "the $picture is another one after the card was reset"; exit 1; }
done
rm -f .quick.foreslice.json.autosave

# Its fonts are gone, or half a font is there: a plain one stands in.
mkdir assets-without && for part in palettes shaders; do ln -s "$source/$part" "assets-without/$part"; done
mkdir assets-without/assets && cp -r "$source/assets/gallery" "$source/assets/fonts" assets-without/assets/
cat >fonts.txt <<END
wait-for face
expect text notice plain font stands in
screenshot fonts.png
click step:tint
click dose:white:more
key ctrl+s
expect unsaved no
quit
END
head -c 20000 "$source/assets/fonts/Inter-SemiBold.otf" >assets-without/assets/fonts/Inter-SemiBold.otf
FORESLICE_ASSETS=$work/assets-without run fonts.txt
rm assets-without/assets/fonts/*.otf
FORESLICE_ASSETS=$work/assets-without run fonts.txt

# The maker's own colourants are broken: the shipped ones are used, and the file is kept where nothing writes over it.
echo "{ broken" >state/my-colourants.json
cat >own.txt <<END
wait-for face
expect text notice Your own colourants could not be read
quit
END
run own.txt
grep -q broken state/my-colourants.unreadable.json || { echo "the broken file was not kept"; exit 1; }
