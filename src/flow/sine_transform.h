// The type-I sine transform of a table in both directions, as dense products: at 100 to 200 points a side
// these beat a general FFT. A sine is even or odd about the middle, so the table is folded first, which
// halves them.
#pragma once

#include <vector>

namespace foreslice::flow {

/// out(l, k) = 2 / sqrt(N M) * sum over j, i of sin(pi l j / N) in(j, i) sin(pi i k / M), with N = rows + 1
/// and M = columns + 1, all indices from 1. Orthogonal and its own inverse. T is float or double.
template <class T>
class SineTransform {
  public:
    SineTransform() = default;
    SineTransform(int rows, int columns);

    /// Row-major, rows x columns; `out` may not overlap `in`.
    void apply(const T* in, T* out) const;

  private:
    int rows_ = 0, columns_ = 0;
    std::vector<T> up_even_, up_odd_, across_even_, across_odd_;
};

extern template class SineTransform<float>;
extern template class SineTransform<double>;

}  // namespace foreslice::flow
