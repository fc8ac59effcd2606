// Sea, terrain and objects. Positions are taken relative to the eye before they are projected.
layout(location = 0) in vec3 position;
layout(location = 1) in vec4 colour;

uniform mat4 clip_from_eye;
uniform vec3 eye;
uniform vec4 drape_place;  // west, south, 1 / width, 1 / height

out vec4 vertex_colour;
out vec2 drape_at;

void main() {
    gl_Position = clip_from_eye * vec4(position - eye, 1.0);
    vertex_colour = colour;
    drape_at = (position.xy - drape_place.xy) * drape_place.zw;
}
