// The uris that a file chooser answers with.
#include <doctest/doctest.h>

#include "studio/window/portal_dialog.h"

using foreslice::studio::path_of_uri;

TEST_CASE("a file's uri becomes its path") {  // RFC 8089, section 2
    CHECK(path_of_uri("file:///home/me/a.json") == "/home/me/a.json");
    CHECK(path_of_uri("file:///%C3%A9t%c3%a9%20tide.json") == "/été tide.json");
    CHECK(path_of_uri("file:///a%25b") == "/a%b");
    CHECK(path_of_uri("file:///") == "/");
}

TEST_CASE("what is no file here is none") {
    for (const char* uri : {"", "file://", "http://x/y", "file://host/a", "file:///a%2", "file:///a%zz",
                            "file:///a%00b", "/plain/path"})
        CHECK_MESSAGE(!path_of_uri(uri), uri);
}
