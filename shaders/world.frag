// The core's own colours, as they are; only distance fades them into the core's horizon.
in vec4 vertex_colour;
in vec2 drape_at;
in float fade;

uniform sampler2D drape;
uniform float draped;
uniform vec3 horizon;

out vec4 shown;

void main() {
    vec3 colour = draped > 0.5 ? texture(drape, drape_at).rgb : vertex_colour.rgb;
    shown = vec4(mix(colour, horizon, fade), 1.0);
}
