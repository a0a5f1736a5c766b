// The last few results of a stage under the key of what they were made from.
#pragma once

#include <cstddef>
#include <cstdint>
#include <list>
#include <memory>
#include <utility>

namespace foreslice::picture {

/// Keeps results while their weights (bytes, or 1 each) add up to no more than the limit; the newest always
/// stays. For one thread at a time.
template <class T>
class Recent {
  public:
    explicit Recent(std::size_t limit) : limit_(limit) {}

    /// The kept result, or what `make()` returns: a pair of the result and its weight.
    template <class Make>
    std::shared_ptr<const T> get(std::uint64_t key, Make&& make) {
        for (auto entry = entries_.begin(); entry != entries_.end(); ++entry)
            if (entry->key == key) {
                entries_.splice(entries_.begin(), entries_, entry);
                return entries_.front().value;
            }
        std::pair<std::shared_ptr<const T>, std::size_t> made = make();
        entries_.push_front({key, std::move(made.first), made.second});
        weight_ += made.second;
        auto value = entries_.front().value;
        while (entries_.size() > 1 && weight_ > limit_) {
            weight_ -= entries_.back().weight;
            entries_.pop_back();
        }
        return value;
    }

  private:
    struct Entry {
        std::uint64_t key;
        std::shared_ptr<const T> value;
        std::size_t weight;
    };
    std::list<Entry> entries_;
    std::size_t limit_, weight_ = 0;
};

}  // namespace foreslice::picture
