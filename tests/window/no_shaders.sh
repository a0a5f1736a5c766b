#!/bin/sh
# A display with OpenGL 2 only: the studio comes up without shaders, and the bar is drawn by the processor. One
# without any: a sentence that says so.
#   no_shaders.sh STUDIO DESIGN WORK_FOLDER
set -u
studio=$1 design=$2 work=$3
rm -rf "$work" && mkdir -p "$work/state" && cp "$design" "$work/design.foreslice.json" || exit 1
cd "$work" || exit 1
cat >bar.txt <<'END'
wait-for face
screenshot pair.png
click page:bar
wait-for bar-picture
expect text bar-picture on the processor
drag bar-view 60 20
screenshot bar.png
quit
END
SDL_VIDEODRIVER=offscreen
export SDL_VIDEODRIVER
MESA_GL_VERSION_OVERRIDE=2.1 MESA_GLSL_VERSION_OVERRIDE=120 \
    "$studio" design.foreslice.json --size 1280x720 --script bar.txt --state-folder state || exit 1

# SDL's dummy driver has no OpenGL at all.
SDL_VIDEODRIVER=dummy "$studio" design.foreslice.json --script bar.txt --state-folder state 2>refusal.txt
code=$?
[ "$code" -eq 1 ] || { echo "without OpenGL the studio ended with $code"; exit 1; }
grep -q "needs OpenGL" refusal.txt || { echo "it did not say why:"; cat refusal.txt; exit 1; }
