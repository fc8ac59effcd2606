in vec4 vertex_colour;

out vec4 shown;

void main() {
    shown = vec4(vertex_colour.rgb, 1.0);
}
