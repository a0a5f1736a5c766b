# What tests that run the studio on a script share; to be read by them. $program: the studio.

# await FILE LOG: until the script has written it; in vain if the studio ends first, or within a minute or two.
await() {
    tries=1200
    while [ ! -f "$1" ]; do
        tries=$((tries - 1))
        [ "$tries" -gt 0 ] && kill -0 "$program" 2>/dev/null || { echo "no file \"$1\""; cat "$2"; kill -9 "$program"; exit 1; }
        sleep 0.05
    done
}
