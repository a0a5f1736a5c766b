// Keeps the face on the screen up to date without ever making the window wait: a coarse face first, a fine
// one behind it, on threads of their own; the newest edit wins.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "studio/session/face_drawer.h"
#include "studio/session/worker.h"

namespace foreslice::studio {

/// What the window says about the face it shows.
struct FaceStatus {
    enum class Kind { nothing, drawing, up_to_date, failed, stopped };
    Kind kind = Kind::nothing;
    std::string stage;      ///< while drawing: what is being done
    double fraction = 0;    ///< while drawing: share of that stage
    bool sketch = false;    ///< what is shown is coarse or belongs to an older edit
    bool converged = true;  ///< up to date: the flow met its tolerance everywhere
    int positions = 0;      ///< up to date: wire positions solved
    std::string problem;    ///< failed: the sentence
};

struct MeasuredFace {
    std::uint64_t number = 0;  ///< of the order
    FaceOrder order;
    picture::FaceMeasures measures;
};

class FaceJobs {
  public:
    /// Called after a picture was written or could not be: empty, or the sentence saying why.
    using Done = std::function<void(const std::string& problem)>;

    /// `wake` is called, from the job threads, whenever shown() or status() has news.
    FaceJobs(std::unique_ptr<FaceDrawer> sketcher, std::unique_ptr<FaceDrawer> finisher,
             std::function<void()> wake);
    ~FaceJobs();

    /// Ask for a face; returns its number. Replaces what was asked for before.
    std::uint64_t order(FaceOrder next);
    /// The best face so far of the newest order, or the last one of an older order; null before the first.
    std::shared_ptr<const DrawnFace> shown() const;
    FaceStatus status() const;
    /// Leaves the face as it is, and a picture that is being written unwritten, until something else is asked
    /// for.
    void cancel();
    /// Whether fine faces are measured once they are shown.
    void want_measures(bool wanted);
    /// The last measures there are and of which order; null before the first.
    std::shared_ptr<const MeasuredFace> measures() const;
    /// Writes the presented picture of a design behind whatever is being drawn. `done` runs on a job thread.
    void write_picture(FaceOrder order, std::string path, Done done);

  private:
    struct Job {
        std::uint64_t number = 0;
        std::uint64_t flow = 0;
        FaceOrder order;
    };
    using JobPointer = std::shared_ptr<const Job>;

    void sketch(const JobPointer& job, Progress& progress);
    void finish(const JobPointer& job, Progress& progress);
    void publish(const Job& job, DrawnFace face);
    void measure(const JobPointer& job, Progress& progress);
    bool measures_missing() const;  ///< of the face that is shown; with the mutex held
    void fail(const Job& job, std::string problem);
    JobPointer newest() const;
    template <class Body>
    void guarded(const Job& job, Body body);

    std::function<void()> wake_;
    std::unique_ptr<FaceDrawer> sketcher_, finisher_;

    mutable std::mutex mutex_;
    JobPointer newest_;
    std::shared_ptr<const DrawnFace> shown_;
    std::uint64_t count_ = 0;
    std::optional<std::uint64_t> fine_flow_;  ///< flow the finisher has at hand or is working on
    double fine_px_per_mm_ = 0;
    bool fine_flow_ready_ = false;
    bool sketch_was_stopped_ = false;
    bool measures_wanted_ = false, measuring_ = false;
    std::shared_ptr<const MeasuredFace> measures_;
    std::uint64_t failed_number_ = 0, cancelled_number_ = 0;
    std::string problem_;

    // Last, so that the threads end before anything they use.
    Worker fine_worker_{Urgency::next}, sketch_worker_{Urgency::now};
};

}  // namespace foreslice::studio
