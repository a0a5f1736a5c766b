#include "studio/session/face_jobs.h"

#include <exception>
#include <utility>

#include "foundation/error.h"

namespace foreslice::studio {

FaceJobs::FaceJobs(std::unique_ptr<FaceDrawer> sketcher, std::unique_ptr<FaceDrawer> finisher,
                   std::function<void()> wake)
    : wake_(std::move(wake)), sketcher_(std::move(sketcher)), finisher_(std::move(finisher)) {}

FaceJobs::~FaceJobs() = default;

std::uint64_t FaceJobs::order(FaceOrder next) {
    auto job = std::make_shared<Job>();
    job->flow = flow_key(next);
    job->order = std::move(next);
    bool skip_sketch = false, stop_fine = false, stop_sketch = false;
    {
        const std::lock_guard lock(mutex_);
        job->number = ++count_;
        // Sketches are quick, so one that was overtaken may finish: stopping every one of them would leave
        // the picture frozen for as long as a slider is dragged. At most every other one is stopped.
        stop_sketch = newest_ && newest_->flow != job->flow && !sketch_was_stopped_;
        sketch_was_stopped_ = stop_sketch;
        newest_ = job;
        const bool same_flow = fine_flow_ == job->flow;
        // A picture that is being written would keep the hand waiting.
        skip_sketch = same_flow && fine_flow_ready_ && !fine_worker_.on_errands();
        stop_fine = !same_flow || measuring_ || (fine_flow_ready_ && fine_px_per_mm_ != job->order.px_per_mm);
    }
    if (stop_fine) fine_worker_.stop_work();
    if (stop_sketch) sketch_worker_.stop_work();
    if (skip_sketch)
        fine_worker_.post([this, job](Progress& progress) { finish(job, progress); });
    else
        sketch_worker_.post([this, job](Progress& progress) { sketch(job, progress); });
    return job->number;
}

// Whatever goes wrong with a job becomes its sentence; only Stopped passes through to the worker.
template <class Body>
void FaceJobs::guarded(const Job& job, Body body) {
    try {
        body();
    } catch (const Stopped&) {
        throw;
    } catch (const std::bad_alloc&) {
        fail(job, "There is not enough memory for a face of this size; make the window smaller.");
    } catch (const std::exception& error) {
        fail(job, error.what());
    }
}

void FaceJobs::sketch(const JobPointer& job, Progress& progress) {
    guarded(*job, [&] {
        publish(*job, sketcher_->draw(job->order, progress));
        if (newest()->number != job->number) return;  // a newer sketch is waiting and will go on from there
        fine_worker_.post([this, job](Progress& fine) { finish(job, fine); });
    });
}

void FaceJobs::finish(const JobPointer& job, Progress& progress) {
    guarded(*job, [&] {
        {
            const std::lock_guard lock(mutex_);
            if (newest_->flow != job->flow) return;  // overtaken between the sketch and here
            if (fine_flow_ != job->flow) fine_flow_ready_ = false;
            fine_flow_ = job->flow;
            fine_px_per_mm_ = job->order.px_per_mm;
        }
        finisher_->prepare(job->order, progress);
        // Doses or the order of the layers may have changed meanwhile: the flow serves the newest of them.
        JobPointer latest = newest();
        {
            const std::lock_guard lock(mutex_);
            fine_flow_ready_ = true;
            if (latest->flow != job->flow) latest = job;
            fine_px_per_mm_ = latest->order.px_per_mm;
            if (shown_ && shown_->number >= latest->number && !shown_->sketch) return;
        }
        publish(*latest, finisher_->draw(latest->order, progress));
        {
            const std::lock_guard lock(mutex_);
            if (!measures_wanted_ || newest_->number != latest->number) return;
        }
        measure(latest, progress);
    });
}

// A face that cannot be measured is still a face: its old measures stay, marked as those of an older order.
void FaceJobs::measure(const JobPointer& job, Progress& progress) {
    const auto set_measuring = [this](bool on) {
        const std::lock_guard lock(mutex_);
        measuring_ = on;
    };
    set_measuring(true);
    try {
        auto made = std::make_shared<MeasuredFace>();
        made->number = job->number;
        made->order = job->order;
        made->measures = finisher_->measure(job->order, progress);
        const std::lock_guard lock(mutex_);
        measures_ = std::move(made);
    } catch (const Stopped&) {
        set_measuring(false);
        throw;
    } catch (const std::exception&) {
    }
    set_measuring(false);
    wake_();
}

bool FaceJobs::measures_missing() const {
    return shown_ && !shown_->sketch && newest_ && shown_->number == newest_->number &&
           (!measures_ || measures_->number != newest_->number);
}

void FaceJobs::want_measures(bool wanted) {
    JobPointer job;
    {
        const std::lock_guard lock(mutex_);
        if (measures_wanted_ == wanted) return;
        measures_wanted_ = wanted;
        if (wanted && measures_missing()) job = newest_;
    }
    if (job) fine_worker_.post([this, job](Progress& progress) { measure(job, progress); });
}

std::shared_ptr<const MeasuredFace> FaceJobs::measures() const {
    const std::lock_guard lock(mutex_);
    return measures_;
}

void FaceJobs::publish(const Job& job, DrawnFace face) {
    face.number = job.number;
    auto fresh = std::make_shared<const DrawnFace>(std::move(face));
    {
        const std::lock_guard lock(mutex_);
        if (fresh->sketch) sketch_was_stopped_ = false;
        const bool newer = !shown_ || fresh->number > shown_->number;
        const bool better = shown_ && fresh->number == shown_->number && !fresh->sketch;
        if (!newer && !better) return;
        shown_ = std::move(fresh);
    }
    wake_();
}

void FaceJobs::fail(const Job& job, std::string problem) {
    {
        const std::lock_guard lock(mutex_);
        failed_number_ = job.number;
        problem_ = std::move(problem);
        if (fine_flow_ == job.flow) fine_flow_.reset();
    }
    wake_();
}

FaceJobs::JobPointer FaceJobs::newest() const {
    const std::lock_guard lock(mutex_);
    return newest_;
}

std::shared_ptr<const DrawnFace> FaceJobs::shown() const {
    const std::lock_guard lock(mutex_);
    return shown_;
}

FaceStatus FaceJobs::status() const {
    FaceStatus out;
    const auto fine = fine_worker_.doing();
    const auto coarse = sketch_worker_.doing();
    const std::lock_guard lock(mutex_);
    if (!newest_) return out;
    const bool current = shown_ && shown_->number == newest_->number;
    out.sketch = !current || shown_->sketch;
    if (failed_number_ == newest_->number) {
        out.kind = FaceStatus::Kind::failed;
        out.problem = problem_;
    } else if (cancelled_number_ == newest_->number && out.sketch) {
        out.kind = FaceStatus::Kind::stopped;
    } else if (!out.sketch) {
        out.kind = FaceStatus::Kind::up_to_date;
        out.converged = shown_->drawn.solve.converged;
        out.positions = shown_->drawn.solve.positions;
    } else {
        out.kind = FaceStatus::Kind::drawing;
        const auto& doing = coarse.busy ? coarse : fine;
        out.stage = doing.stage;
        out.fraction = doing.fraction;
    }
    return out;
}

void FaceJobs::cancel() {
    {
        const std::lock_guard lock(mutex_);
        if (newest_) cancelled_number_ = newest_->number;
        fine_flow_.reset();  // half made: the next order begins it anew
    }
    sketch_worker_.stop_all();
    fine_worker_.stop_all();
    wake_();
}

void FaceJobs::write_picture(FaceOrder order, std::string path, Done done) {
    fine_worker_.run_errand(
        [this, order = std::move(order), path = std::move(path), done = std::move(done)](Progress& progress) {
            std::string problem;
            try {
                finisher_->write_presented(order, path, progress);
            } catch (const Stopped&) {
                problem = "The picture was not written: it was stopped.";
            } catch (const std::exception& error) {
                problem = error.what();
            }
            done(problem);
            wake_();
        });
}

}  // namespace foreslice::studio
