#include <doctest/doctest.h>

#include <atomic>
#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <vector>

#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/progress.h"
#include "foundation/random.h"
#include "foundation/text_file.h"
#include "foundation/worker_pool.h"

using namespace foreslice;

TEST_CASE("a parallel loop visits every index once, whatever the number of threads") {
    for (unsigned threads : {1U, 2U, 5U}) {
        WorkerPool pool(threads);
        CHECK(pool.threads() == threads);
        std::vector<std::atomic<int>> visits(1000);
        pool.parallel_for(visits.size(), [&](std::size_t i) { ++visits[i]; });
        for (auto& v : visits) REQUIRE(v.load() == 1);
    }
}

TEST_CASE("an exception in a loop body reaches the caller and leaves the pool usable") {
    WorkerPool pool(2);
    CHECK_THROWS_AS(pool.parallel_for(100,
                                      [](std::size_t i) {
                                          if (i == 40) throw std::runtime_error("x");
                                      }),
                    std::runtime_error);
    std::atomic<int> sum{0};
    pool.parallel_for(10, [&](std::size_t i) { sum += static_cast<int>(i); });
    CHECK(sum == 45);
}

TEST_CASE("a loop inside a loop body runs without deadlock") {
    WorkerPool pool(2);
    std::atomic<int> count{0};
    pool.parallel_for(8, [&](std::size_t) { pool.parallel_for(8, [&](std::size_t) { ++count; }); });
    CHECK(count == 64);
}

TEST_CASE("work that was asked to stop throws at its next step") {
    Progress progress;
    progress.begin_stage("test", 10);
    progress.advance(4);
    CHECK(progress.fraction() == doctest::Approx(0.4));
    progress.request_stop();
    CHECK_THROWS_AS(progress.advance(), Stopped);
}

TEST_CASE("content keys tell the parts apart") {
    CHECK(ContentKey().add("ab").add("c").value() != ContentKey().add("a").add("bc").value());
    CHECK(ContentKey().add(0.0).value() == ContentKey().add(-0.0).value());
    CHECK(ContentKey().add(1.0).value() != ContentKey().add(1.0 + 1e-15).value());
}

TEST_CASE("the smooth field has zero mean, about unit variance and no jumps") {
    double sum = 0, squares = 0, jump = 0, last = smooth_field(7, 0.0, 20.0);
    const int n = 200000;
    for (int i = 1; i <= n; ++i) {
        const double value = smooth_field(7, 0.5 * i, 20.0);
        sum += value;
        squares += value * value;
        jump = std::max(jump, std::abs(value - last));
        last = value;
    }
    CHECK(std::abs(sum / n) < 0.06);
    CHECK(squares / n == doctest::Approx(1.0).epsilon(0.05));
    CHECK(jump < 0.2);
    CHECK(smooth_field(7, 3.0, 20.0) == smooth_field(7, 3.0, 20.0));
    CHECK(smooth_field(7, 3.0, 20.0) != smooth_field(8, 3.0, 20.0));
}

TEST_CASE("files are written whole and read back; faults are sentences") {
    const auto folder = std::filesystem::temp_directory_path() / "foreslice-test-files";
    std::filesystem::create_directories(folder);
    const auto path = folder / "café.txt";
    write_file_atomically(path, "one");
    write_file_atomically(path, std::string("two\0three", 9));
    CHECK(read_file(path) == std::string("two\0three", 9));
    int files = 0;
    for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder)) ++files;
    CHECK(files == 1);  // no leftovers
    CHECK_THROWS_WITH_AS(read_file(folder), doctest::Contains("it is a folder"), InputError);
    CHECK_THROWS_WITH_AS(read_file(folder / "none"), doctest::Contains("there is no such file"), InputError);
    CHECK_THROWS_WITH_AS(read_file(path, 4), doctest::Contains("larger than"), InputError);
    CHECK_THROWS_WITH_AS(write_file_atomically(folder / "no" / "such", "x"),
                         doctest::Contains("cannot be written"), InputError);
    std::filesystem::remove_all(folder);
}

TEST_CASE("untrusted text is quoted safely") {
    CHECK(quoted("a\nb") == "\"a\\x0ab\"");
    CHECK(quoted("abcdef", 3) == "\"abc…\"");
    CHECK(plain_number(2.5) == "2.5");
}
