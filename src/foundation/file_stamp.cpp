#include "foundation/file_stamp.h"

#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice {

FileStamp::FileStamp(std::string_view bytes)
    : content_(ContentKey().add(bytes).value()), size_(bytes.size()) {}

FileStamp stamp_of(const std::filesystem::path& path) {
    std::error_code error;
    if (std::filesystem::status(path, error).type() == std::filesystem::file_type::not_found) return {};
    return FileStamp(read_file(path));
}

FileStamp write_file_if_unchanged(const std::filesystem::path& path, std::string_view bytes,
                                  const FileStamp& known) {
    const FileStamp now = stamp_of(path);
    if (!(now == known)) {
        const char* const what =
            now == FileStamp{} ? "was taken away since it was opened here, so it was not written"
            : known == FileStamp{}
                ? "was made by somebody else in the meantime, so it was not written over"
                : "was changed since it was opened here, by another window or person, so it was not written "
                  "over";
        throw InputError(path.string(), "", what,
                         "save under another name, or open it again and repeat the change there");
    }
    write_file_atomically(path, bytes);
    return FileStamp(bytes);
}

}  // namespace foreslice
