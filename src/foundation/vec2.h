// A point or displacement in the cross-section. The unit stands in the variable's name (mm throughout the
// flow and picture rooms: x from the left wall, y up from the floor).
#pragma once

#include <cmath>

namespace foreslice {

struct Vec2 {
    double x = 0;
    double y = 0;

    friend bool operator==(const Vec2&, const Vec2&) = default;
    Vec2& operator+=(Vec2 b) {
        x += b.x;
        y += b.y;
        return *this;
    }
};

inline Vec2 operator+(Vec2 a, Vec2 b) {
    return {a.x + b.x, a.y + b.y};
}
inline Vec2 operator-(Vec2 a, Vec2 b) {
    return {a.x - b.x, a.y - b.y};
}
inline Vec2 operator*(double s, Vec2 a) {
    return {s * a.x, s * a.y};
}
inline double dot(Vec2 a, Vec2 b) {
    return a.x * b.x + a.y * b.y;
}
inline double length(Vec2 a) {
    return std::sqrt(dot(a, a));
}

}  // namespace foreslice
