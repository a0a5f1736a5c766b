#include "studio/window/portal_dialog.h"

#include <atomic>
#include <chrono>
#include <cstdlib>
#include <mutex>
#include <string_view>
#include <system_error>
#include <thread>
#include <utility>

#ifdef FORESLICE_HAS_DBUS
#include <dbus/dbus.h>
#endif

namespace foreslice::studio {
namespace fs = std::filesystem;

struct PortalDialog::Asked {
    bool saving = false;
    std::string title;
    fs::path suggested;
    std::atomic<bool> stop{false}, connecting{true};
    std::atomic<State> state{State::asking};
    std::mutex mutex;
    fs::path path;

    void ask();
    void answer(const fs::path& chosen) {
        {
            const std::lock_guard lock(mutex);
            path = chosen;
        }
        state = State::answered;
    }
};

std::optional<fs::path> path_of_uri(const std::string& uri) {
    const std::string scheme = "file://";
    if (uri.rfind(scheme, 0) != 0 || uri.size() <= scheme.size() || uri[scheme.size()] != '/')
        return std::nullopt;
    const auto digit = [](char c) {
        if (c >= '0' && c <= '9') return c - '0';
        if (c >= 'a' && c <= 'f') return c - 'a' + 10;
        if (c >= 'A' && c <= 'F') return c - 'A' + 10;
        return -1;
    };
    std::string path;
    for (std::size_t i = scheme.size(); i < uri.size(); ++i) {
        if (uri[i] != '%') {
            path += uri[i];
            continue;
        }
        if (i + 2 >= uri.size()) return std::nullopt;
        const int high = digit(uri[i + 1]), low = digit(uri[i + 2]);
        if (high < 0 || low < 0 || high + low == 0) return std::nullopt;
        path += static_cast<char>(16 * high + low);
        i += 2;
    }
    return fs::path(path);
}

#ifdef FORESLICE_HAS_DBUS
namespace {

constexpr const char* portal = "org.freedesktop.portal.Desktop";
constexpr const char* portal_path = "/org/freedesktop/portal/desktop";
constexpr const char* chooser = "org.freedesktop.portal.FileChooser";
constexpr const char* request = "org.freedesktop.portal.Request";
constexpr std::chrono::seconds patience{10};  // for the call itself; the person may take as long as they like
constexpr int look_every_ms = 50;

struct CloseMessage {
    void operator()(DBusMessage* message) const { dbus_message_unref(message); }
};
using Message = std::unique_ptr<DBusMessage, CloseMessage>;

struct CloseConnection {
    void operator()(DBusConnection* connection) const {
        dbus_connection_close(connection);
        dbus_connection_unref(connection);
    }
};
using Connection = std::unique_ptr<DBusConnection, CloseConnection>;

Connection connected() {
    Connection out(dbus_bus_get_private(DBUS_BUS_SESSION, nullptr));
    if (out) dbus_connection_set_exit_on_disconnect(out.get(), FALSE);
    return out;
}

// One entry of a{sv}.
void add_string(DBusMessageIter& options, const char* key, const std::string& text) {
    DBusMessageIter entry, value;
    const char* words = text.c_str();
    dbus_message_iter_open_container(&options, DBUS_TYPE_DICT_ENTRY, nullptr, &entry);
    dbus_message_iter_append_basic(&entry, DBUS_TYPE_STRING, &key);
    dbus_message_iter_open_container(&entry, DBUS_TYPE_VARIANT, "s", &value);
    dbus_message_iter_append_basic(&value, DBUS_TYPE_STRING, &words);
    dbus_message_iter_close_container(&entry, &value);
    dbus_message_iter_close_container(&options, &entry);
}

// Paths go as bytes with a zero at the end.
void add_path(DBusMessageIter& options, const char* key, const std::string& path) {
    DBusMessageIter entry, value, bytes;
    const char* data = path.c_str();
    dbus_message_iter_open_container(&options, DBUS_TYPE_DICT_ENTRY, nullptr, &entry);
    dbus_message_iter_append_basic(&entry, DBUS_TYPE_STRING, &key);
    dbus_message_iter_open_container(&entry, DBUS_TYPE_VARIANT, "ay", &value);
    dbus_message_iter_open_container(&value, DBUS_TYPE_ARRAY, "y", &bytes);
    dbus_message_iter_append_fixed_array(&bytes, DBUS_TYPE_BYTE, &data, static_cast<int>(path.size()) + 1);
    dbus_message_iter_close_container(&value, &bytes);
    dbus_message_iter_close_container(&entry, &value);
    dbus_message_iter_close_container(&options, &entry);
}

Message message_for(bool saving, const std::string& title, const fs::path& suggested,
                    const std::string& token) {
    Message call(
        dbus_message_new_method_call(portal, portal_path, chooser, saving ? "SaveFile" : "OpenFile"));
    if (!call) return call;
    DBusMessageIter arguments, options;
    const char* parent = "";
    const char* words = title.c_str();
    dbus_message_iter_init_append(call.get(), &arguments);
    dbus_message_iter_append_basic(&arguments, DBUS_TYPE_STRING, &parent);
    dbus_message_iter_append_basic(&arguments, DBUS_TYPE_STRING, &words);
    dbus_message_iter_open_container(&arguments, DBUS_TYPE_ARRAY, "{sv}", &options);
    add_string(options, "handle_token", token);
    const std::string name = suggested.filename().string();
    if (saving && !name.empty() && dbus_validate_utf8(name.c_str(), nullptr))
        add_string(options, "current_name", name);
    if (suggested.has_parent_path()) add_path(options, "current_folder", suggested.parent_path().string());
    dbus_message_iter_close_container(&arguments, &options);
    return call;
}

// The uris of a Response: (response, a{sv}); empty when the person chose none.
std::optional<std::string> first_uri(DBusMessage* response) {
    DBusMessageIter arguments;
    dbus_uint32_t code = 2;
    if (!dbus_message_iter_init(response, &arguments) ||
        dbus_message_iter_get_arg_type(&arguments) != DBUS_TYPE_UINT32)
        return std::nullopt;
    dbus_message_iter_get_basic(&arguments, &code);
    if (code != 0 || !dbus_message_iter_next(&arguments) ||
        dbus_message_iter_get_arg_type(&arguments) != DBUS_TYPE_ARRAY)
        return std::nullopt;
    DBusMessageIter entries;
    dbus_message_iter_recurse(&arguments, &entries);
    for (; dbus_message_iter_get_arg_type(&entries) == DBUS_TYPE_DICT_ENTRY;
         dbus_message_iter_next(&entries)) {
        DBusMessageIter entry, value, list;
        const char* key = nullptr;
        dbus_message_iter_recurse(&entries, &entry);
        if (dbus_message_iter_get_arg_type(&entry) != DBUS_TYPE_STRING) continue;
        dbus_message_iter_get_basic(&entry, &key);
        if (std::string_view(key) != "uris" || !dbus_message_iter_next(&entry) ||
            dbus_message_iter_get_arg_type(&entry) != DBUS_TYPE_VARIANT)
            continue;
        dbus_message_iter_recurse(&entry, &value);
        if (dbus_message_iter_get_arg_type(&value) != DBUS_TYPE_ARRAY) continue;
        dbus_message_iter_recurse(&value, &list);
        if (dbus_message_iter_get_arg_type(&list) != DBUS_TYPE_STRING) continue;
        const char* uri = nullptr;
        dbus_message_iter_get_basic(&list, &uri);
        return std::string(uri);
    }
    return std::nullopt;
}

std::string handle_for(DBusConnection* connection, const std::string& token) {
    std::string sender = dbus_bus_get_unique_name(connection);
    sender.erase(0, 1);
    for (char& c : sender)
        if (c == '.') c = '_';
    std::string handle = portal_path;
    handle.append("/request/").append(sender).append("/").append(token);
    return handle;
}

std::string handle_in(DBusMessage* reply, const std::string& otherwise) {
    const char* handle = nullptr;
    if (dbus_message_get_args(reply, nullptr, DBUS_TYPE_OBJECT_PATH, &handle, DBUS_TYPE_INVALID) && handle)
        return handle;
    return otherwise;  // an old portal that says nothing of use
}

void put_away(DBusConnection* connection, const std::string& handle) {
    const Message close(dbus_message_new_method_call(portal, handle.c_str(), request, "Close"));
    if (!close) return;
    dbus_message_set_no_reply(close.get(), TRUE);
    dbus_connection_send(connection, close.get(), nullptr);
    dbus_connection_flush(connection);
}

// One question on an open bus. Messages are taken by hand: nothing here needs libdbus's own main loop.
class Question {
  public:
    Question(DBusConnection* bus, const std::string& token) : bus_(bus), handle_(handle_for(bus, token)) {}

    bool send(const Message& call) {
        // Before the call: a quick portal answers before its reply is read.
        std::string rule = "type='signal',interface='";
        rule.append(request).append("',member='Response'");
        dbus_bus_add_match(bus_, rule.c_str(), nullptr);
        return call && dbus_connection_send(bus_, call.get(), &serial_);
    }

    /// True when it is over: with a path, an empty one when nothing was chosen, or unavailable().
    bool look() {
        if (!dbus_connection_read_write(bus_, look_every_ms)) unavailable_ = true;
        while (!unavailable_ && !answer_) {
            const Message message(dbus_connection_pop_message(bus_));
            if (!message) break;
            take(message.get());
        }
        return unavailable_ || answer_.has_value();
    }
    bool accepted() const { return accepted_; }
    bool unavailable() const { return unavailable_; }
    const fs::path& answer() const { return *answer_; }
    void take_back() { put_away(bus_, handle_); }

  private:
    void take(DBusMessage* message) {
        const bool reply = dbus_message_get_reply_serial(message) == serial_;
        if (reply && dbus_message_get_type(message) == DBUS_MESSAGE_TYPE_ERROR) unavailable_ = true;
        if (reply && dbus_message_get_type(message) == DBUS_MESSAGE_TYPE_METHOD_RETURN) {
            accepted_ = true;
            handle_ = handle_in(message, handle_);
        }
        if (!dbus_message_is_signal(message, request, "Response") ||
            !dbus_message_has_path(message, handle_.c_str()))
            return;
        const auto uri = first_uri(message);
        answer_ = uri ? path_of_uri(*uri).value_or(fs::path()) : fs::path();
    }

    DBusConnection* bus_;
    std::string handle_;
    dbus_uint32_t serial_ = 0;
    bool accepted_ = false, unavailable_ = false;
    std::optional<fs::path> answer_;
};

}  // namespace

void PortalDialog::Asked::ask() {
    const Connection bus = connected();
    connecting = false;
    if (!bus) {
        state = State::unavailable;
        return;
    }
    Question question(bus.get(), "foreslice");
    const auto began = std::chrono::steady_clock::now();
    bool over = !question.send(message_for(saving, title, suggested, "foreslice"));
    const bool sent = !over;
    while (!over && !stop) {
        over = question.look();
        const bool late = !question.accepted() && std::chrono::steady_clock::now() - began > patience;
        if (late && !over) break;
    }
    if (sent && over && !question.unavailable())
        answer(question.answer());
    else {
        if (sent && !question.unavailable()) question.take_back();
        state = State::unavailable;
    }
}

bool PortalDialog::bus_there() {
    if (const char* address = std::getenv("DBUS_SESSION_BUS_ADDRESS"); address && *address) return true;
    const char* folder = std::getenv("XDG_RUNTIME_DIR");
    std::error_code error;
    return folder && fs::exists(fs::path(folder) / "bus", error);
}

#else

void PortalDialog::Asked::ask() {
    connecting = false;
    state = State::unavailable;
}
bool PortalDialog::bus_there() {
    return false;
}

#endif

PortalDialog::PortalDialog(bool saving, std::string title, fs::path suggested)
    : asked_(std::make_shared<Asked>()) {
    asked_->saving = saving;
    asked_->title = std::move(title);
    asked_->suggested = std::move(suggested);
    thread_ = std::thread([asked = asked_] { asked->ask(); });
}

PortalDialog::~PortalDialog() {
    asked_->stop = true;
    // A bus that does not answer must not hold the studio up.
    if (asked_->connecting)
        thread_.detach();
    else
        thread_.join();
}

PortalDialog::State PortalDialog::state() const {
    return asked_->state;
}

fs::path PortalDialog::path() const {
    const std::lock_guard lock(asked_->mutex);
    return asked_->path;
}

}  // namespace foreslice::studio
