// The sky: a dome around the eye, coloured by the core.
layout(location = 0) in vec3 position;
layout(location = 1) in vec4 colour;

uniform mat4 clip_from_eye;
uniform float radius;

out vec4 vertex_colour;

void main() {
    gl_Position = clip_from_eye * vec4(position * radius, 1.0);
    vertex_colour = colour;
}
