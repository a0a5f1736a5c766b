// One corner of the bar mock-up. Positions and normals in mm, the bar's middle at the origin.
#version 330 core
layout(location = 0) in vec3 position_mm;
layout(location = 1) in vec3 normal;
layout(location = 2) in float on_top;

uniform mat4 screen_from_bar;

out vec3 at_mm;
out vec3 facing;
out float share_of_top;

void main() {
    at_mm = position_mm;
    facing = normal;
    share_of_top = on_top;
    gl_Position = screen_from_bar * vec4(position_mm, 1.0);
}
