// The bar in the light of a window up to the left, with a little light from everywhere. The face's picture is
// what every place shows that lies behind it along the loaf: layers run through the bar. A worked top has a picture
// of its own. src/studio/session/bar_mesh.cpp does the same sums for displays without shaders; change both.
#version 330 core
in vec3 at_mm;
in vec3 facing;
in float share_of_top;

uniform sampler2D face;     // sRGB-encoded, top row first
uniform sampler2D above;    // the same of a worked top, seen from straight above, the cut at its upper edge
uniform float thickness_mm;
uniform vec3 size_mm;       // width and height of the face, and how far its picture reaches above it
uniform vec3 eye_mm;
uniform vec3 to_light;      // unit length
uniform float glitter;      // grains a square millimetre on what looks up; 0: none

out vec4 colour;

vec3 linear_of(vec3 c) {
    return mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), step(vec3(0.04045), c));
}
vec3 encoded(vec3 l) {
    l = clamp(l, 0.0, 1.0);
    return mix(l * 12.92, 1.055 * pow(l, vec3(1.0 / 2.4)) - 0.055, step(vec3(0.0031308), l));
}
float chance(vec2 cell) {
    return fract(sin(dot(cell, vec2(12.9898, 78.233))) * 43758.5453);
}

void main() {
    vec3 n = normalize(facing);
    vec3 to_eye = normalize(eye_mm - at_mm);
    float down = (size_mm.z + 0.5 * size_mm.y - at_mm.y) / (size_mm.y + size_mm.z);
    vec2 place = clamp(vec2(at_mm.x / size_mm.x + 0.5, down), 0.002, 0.998);
    vec2 place_above = clamp(vec2(place.x, 0.5 - at_mm.z / thickness_mm), 0.002, 0.998);
    vec3 own = mix(linear_of(texture(face, place).rgb), linear_of(texture(above, place_above).rgb), share_of_top);
    float lit = clamp((dot(n, to_light) + 0.25) / 1.25, 0.0, 1.0);  // soap passes a little light on
    vec3 half_way = normalize(to_light + to_eye);
    float shine = pow(max(dot(n, half_way), 0.0), 28.0) * 0.10;
    float edge = pow(1.0 - max(dot(n, to_eye), 0.0), 4.0) * 0.10;
    vec3 light = own * (0.42 + 0.66 * lit) + vec3(shine + edge);
    if (glitter > 0.0 && n.y > 0.6) {
        vec2 cell = floor(at_mm.xz * 2.5);
        float tilt = chance(cell + 7.0);
        float wink = pow(abs(sin(6.2832 * tilt + 3.0 * to_eye.x + 5.0 * to_eye.z)), 24.0);
        if (chance(cell) < glitter / 6.25) light += vec3(1.0, 0.86, 0.55) * (0.15 + 0.85 * wink);
    }
    colour = vec4(encoded(light), 1.0);
}
