#include "studio/window/ending.h"

#include <atomic>
#include <utility>

#if defined(__unix__) || defined(__APPLE__)
#include <dlfcn.h>
#include <semaphore.h>

#include <array>
#include <cerrno>
#include <csignal>
#endif

namespace foreslice::studio {

#if defined(__unix__) || defined(__APPLE__)

namespace {

constexpr std::array signals{SIGTERM, SIGHUP, SIGINT};

// All that a signal handler may touch.
std::atomic<bool> end_asked{false};
std::atomic<bool> closing{false};
sem_t arrived;

extern "C" void note_signal(int) {
    const int kept = errno;
    end_asked = true;
    sem_post(&arrived);
    errno = kept;
}

void handle_signals() {
    for (const int number : signals) {
        struct sigaction before {};
        sigaction(number, nullptr, &before);
        if (before.sa_handler == SIG_IGN) continue;
        struct sigaction ours {};
        ours.sa_handler = note_signal;
        ours.sa_flags = SA_RESTART;
        sigaction(number, &ours, nullptr);
    }
}

void stop_handling() {
    for (const int number : signals) {
        struct sigaction now {};
        sigaction(number, nullptr, &now);
        if (now.sa_handler == note_signal) std::signal(number, SIG_DFL);
    }
}

}  // namespace

EndSignals::EndSignals(std::function<void()> wake) {
    end_asked = closing = false;
    sem_init(&arrived, 0, 0);
    thread_ = std::thread([wake = std::move(wake)] {
        for (;;) {
            while (sem_wait(&arrived) != 0 && errno == EINTR) continue;
            if (closing) return;
            wake();
        }
    });
    handle_signals();
}

EndSignals::~EndSignals() {
    stop_handling();
    closing = true;
    sem_post(&arrived);
    thread_.join();
    sem_destroy(&arrived);
}

bool EndSignals::asked() const {
    return end_asked;
}

#else

EndSignals::EndSignals(std::function<void()>) {}
EndSignals::~EndSignals() = default;
bool EndSignals::asked() const {
    return false;
}

#endif

#if defined(__unix__)

namespace {

struct Connection;  // Xlib's Display
using ErrorHandler = int (*)(Connection*);

std::function<void()>& last_act() {
    static std::function<void()> act;
    return act;
}

// Xlib calls exit() when this returns.
extern "C" int note_lost_display(Connection*) {
    if (const auto act = std::exchange(last_act(), nullptr)) act();
    return 0;
}

}  // namespace

void before_display_is_lost(std::function<void()> act) {
    last_act() = std::move(act);
    // Only where SDL has loaded it: nothing here needs X itself.
    void* xlib = dlopen("libX11.so.6", RTLD_LAZY | RTLD_NOLOAD);
    if (!xlib) return;
    using SetHandler = ErrorHandler (*)(ErrorHandler);
    if (const auto set = reinterpret_cast<SetHandler>(dlsym(xlib, "XSetIOErrorHandler")))
        set(last_act() ? note_lost_display : nullptr);
    dlclose(xlib);
}

#else

void before_display_is_lost(std::function<void()>) {}

#endif

}  // namespace foreslice::studio
