// The core's own colours, as they are.
in vec4 vertex_colour;
in vec2 drape_at;

uniform sampler2D drape;
uniform float draped;

out vec4 shown;

void main() {
    vec3 colour = draped > 0.5 ? texture(drape, drape_at).rgb : vertex_colour.rgb;
    shown = vec4(colour, 1.0);
}
