// A stand-in for the desktop portal's file chooser on a session bus of its own: writes down what it was
// asked, and answers with the line of a file, or that nothing was chosen when there is none.
//   fake_portal ASKED_FILE ANSWER_FILE
#include <dbus/dbus.h>

#include <chrono>
#include <cstdio>
#include <fstream>
#include <string>
#include <thread>

namespace {

void respond(DBusConnection* bus, const std::string& handle, const std::string& uri) {
    DBusMessage* signal =
        dbus_message_new_signal(handle.c_str(), "org.freedesktop.portal.Request", "Response");
    DBusMessageIter arguments, results, entry, value, list;
    const dbus_uint32_t code = uri.empty() ? 1 : 0;
    const char *key = "uris", *text = uri.c_str();
    dbus_message_iter_init_append(signal, &arguments);
    dbus_message_iter_append_basic(&arguments, DBUS_TYPE_UINT32, &code);
    dbus_message_iter_open_container(&arguments, DBUS_TYPE_ARRAY, "{sv}", &results);
    if (!uri.empty()) {
        dbus_message_iter_open_container(&results, DBUS_TYPE_DICT_ENTRY, nullptr, &entry);
        dbus_message_iter_append_basic(&entry, DBUS_TYPE_STRING, &key);
        dbus_message_iter_open_container(&entry, DBUS_TYPE_VARIANT, "as", &value);
        dbus_message_iter_open_container(&value, DBUS_TYPE_ARRAY, "s", &list);
        dbus_message_iter_append_basic(&list, DBUS_TYPE_STRING, &text);
        dbus_message_iter_close_container(&value, &list);
        dbus_message_iter_close_container(&entry, &value);
        dbus_message_iter_close_container(&results, &entry);
    }
    dbus_message_iter_close_container(&arguments, &results);
    dbus_connection_send(bus, signal, nullptr);
    dbus_connection_flush(bus);
    dbus_message_unref(signal);
}

// As the portal makes it from the caller's name on the bus.
std::string handle_of(DBusMessage* call) {
    std::string sender = dbus_message_get_sender(call);
    sender.erase(0, 1);
    for (char& c : sender)
        if (c == '.') c = '_';
    return "/org/freedesktop/portal/desktop/request/" + sender + "/foreslice";
}

void answer(DBusConnection* bus, DBusMessage* call, const char* asked_file, const char* answer_file) {
    const std::string handle = handle_of(call);
    DBusMessage* reply = dbus_message_new_method_return(call);
    const char* path = handle.c_str();
    dbus_message_append_args(reply, DBUS_TYPE_OBJECT_PATH, &path, DBUS_TYPE_INVALID);
    dbus_connection_send(bus, reply, nullptr);
    dbus_connection_flush(bus);
    dbus_message_unref(reply);
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    std::string uri;
    std::ifstream in(answer_file);
    std::getline(in, uri);
    respond(bus, handle, uri);
    std::ofstream(asked_file) << dbus_message_get_member(call) << "\n";
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) return 2;
    DBusConnection* bus = dbus_bus_get(DBUS_BUS_SESSION, nullptr);
    if (!bus || dbus_bus_request_name(bus, "org.freedesktop.portal.Desktop", DBUS_NAME_FLAG_DO_NOT_QUEUE,
                                      nullptr) != DBUS_REQUEST_NAME_REPLY_PRIMARY_OWNER) {
        std::fprintf(stderr, "no bus, or the portal's name is taken\n");
        return 1;
    }
    std::puts("ready");
    std::fflush(stdout);
    while (dbus_connection_read_write(bus, 100))
        while (DBusMessage* message = dbus_connection_pop_message(bus)) {
            if (dbus_message_is_method_call(message, "org.freedesktop.portal.FileChooser", "OpenFile") ||
                dbus_message_is_method_call(message, "org.freedesktop.portal.FileChooser", "SaveFile"))
                answer(bus, message, argv[1], argv[2]);
            dbus_message_unref(message);
        }
    return 0;
}
