#include "flow/sine_transform.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flow/dense_kernels.h"

namespace foreslice::flow {
namespace {

constexpr double pi = 3.14159265358979323846;

int even_part(int order) {  // of the first half with the middle
    return (order + 1) / 2;
}

// The products run fastest in whole blocks, so parts are filled up with zeros to these.
int whole_rows(int rows) {
    return (rows + 3) / 4 * 4;
}
int whole_columns(int columns) {
    return (columns + 15) / 16 * 16;
}

// Entry (a, i): the wave of wavenumber 2 a + 1 (symmetric about the middle) or 2 a + 2 (antisymmetric) at
// node i + 1. With `waves_down` the waves are the rows, else the columns.
template <class T>
std::vector<T> half_waves(int order, bool symmetric, bool waves_down) {
    const int size = symmetric ? even_part(order) : order / 2, first = symmetric ? 1 : 2;
    const int side = waves_down ? whole_rows(size) : whole_columns(size);
    const double scale = std::sqrt(2.0 / (order + 1));
    std::vector<T> out(static_cast<std::size_t>(side) * static_cast<std::size_t>(side));
    for (int row = 0; row < size; ++row)
        for (int column = 0; column < size; ++column) {
            const int wave = 2 * (waves_down ? row : column) + first, node = (waves_down ? column : row) + 1;
            out[static_cast<std::size_t>(row) * static_cast<std::size_t>(side) + column] =
                static_cast<T>(scale * std::sin(pi * wave * node / (order + 1)));
        }
    return out;
}

// Sums of mirror rows to `even`, differences to `odd`, with rows of `stride`. What fills these up is zero.
template <class T>
void fold_rows(const T* in, int rows, int columns, std::ptrdiff_t stride, T* even, T* odd) {
    T* const ends[2] = {even + whole_rows(even_part(rows)) * stride, odd + whole_rows(rows / 2) * stride};
    for (int j = 0; j < rows / 2; ++j, even += stride, odd += stride) {
        const T* low = in + static_cast<std::ptrdiff_t>(j) * columns;
        const T* high = in + static_cast<std::ptrdiff_t>(rows - 1 - j) * columns;
        for (int i = 0; i < columns; ++i) even[i] = low[i] + high[i];
        for (int i = 0; i < columns; ++i) odd[i] = low[i] - high[i];
        std::fill(even + columns, even + stride, T{0});
        std::fill(odd + columns, odd + stride, T{0});
    }
    if (rows % 2 != 0) {
        std::copy_n(in + static_cast<std::ptrdiff_t>(rows / 2) * columns, columns, even);
        std::fill(even + columns, even + stride, T{0});
        even += stride;
    }
    std::fill(even, ends[0], T{0});
    std::fill(odd, ends[1], T{0});
}

template <class T>
void fold_columns(const T* in, int rows, int columns, std::ptrdiff_t stride, T* even, T* odd) {
    const int half = columns / 2, wide = even_part(columns);
    const int even_side = whole_columns(wide), odd_side = whole_columns(half);
    for (int j = 0; j < rows; ++j, in += stride, even += even_side, odd += odd_side) {
        for (int i = 0; i < half; ++i) even[i] = in[i] + in[columns - 1 - i];
        for (int i = 0; i < half; ++i) odd[i] = in[i] - in[columns - 1 - i];
        if (wide > half) even[half] = in[half];
        std::fill(even + wide, even + even_side, T{0});
        std::fill(odd + half, odd + odd_side, T{0});
    }
}

}  // namespace

template <class T>
SineTransform<T>::SineTransform(int rows, int columns)
    : rows_(rows),
      columns_(columns),
      up_even_(half_waves<T>(rows, true, true)),
      up_odd_(half_waves<T>(rows, false, true)),
      across_even_(half_waves<T>(columns, true, false)),
      across_odd_(half_waves<T>(columns, false, false)) {}

template <class T>
void SineTransform<T>::apply(const T* in, T* out) const {
    const int half = columns_ / 2, wide = even_part(columns_), stride = whole_columns(columns_);
    const int upper = whole_rows(even_part(rows_)), lower = whole_rows(rows_ / 2), rows = upper + lower;
    const int even_side = whole_columns(wide), odd_side = whole_columns(half);
    const auto size =
        static_cast<std::size_t>(rows) * static_cast<std::size_t>(std::max(stride, even_side + odd_side));
    thread_local std::vector<T> folded, waves;
    folded.resize(size);
    waves.resize(size);
    const std::ptrdiff_t odd_rows = static_cast<std::ptrdiff_t>(upper) * stride;
    fold_rows(in, rows_, columns_, stride, folded.data(), folded.data() + odd_rows);
    multiply(up_even_.data(), folded.data(), waves.data(), upper, upper, stride);
    multiply(up_odd_.data(), folded.data() + odd_rows, waves.data() + odd_rows, lower, lower, stride);
    const std::ptrdiff_t odd_columns = static_cast<std::ptrdiff_t>(rows) * even_side;
    fold_columns(waves.data(), rows, columns_, stride, folded.data(), folded.data() + odd_columns);
    multiply(folded.data(), across_even_.data(), waves.data(), rows, even_side, even_side);
    multiply(folded.data() + odd_columns, across_odd_.data(), waves.data() + odd_columns, rows, odd_side,
             odd_side);
    for (int wave = 0; wave < rows_; ++wave) {
        const int row = wave % 2 == 0 ? wave / 2 : upper + wave / 2;
        T* to = out + static_cast<std::ptrdiff_t>(wave) * columns_;
        const T* even = waves.data() + static_cast<std::ptrdiff_t>(row) * even_side;
        const T* odd = waves.data() + odd_columns + static_cast<std::ptrdiff_t>(row) * odd_side;
        for (int i = 0; i < half; ++i) {
            to[2 * i] = even[i];
            to[2 * i + 1] = odd[i];
        }
        if (wide > half) to[columns_ - 1] = even[half];
    }
}

template class SineTransform<float>;
template class SineTransform<double>;

}  // namespace foreslice::flow
