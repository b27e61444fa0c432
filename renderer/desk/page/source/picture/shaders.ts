// The picture is summed and shown on the graphics processor: layers times weights, then the camera's display curve
// (renderer/pictures/draw/display_curve.h) or the false-colour scale. Half floats in, eight bits out. Weights come as a
// texture: arrays of uniforms with a running index take software drawing half a minute to compile.

export const corner = `#version 300 es
void main() {
    vec2 at = vec2(gl_VertexID & 1, gl_VertexID >> 1);
    gl_Position = vec4(4.0 * at - 1.0, 0.0, 1.0);
}`;

const head = `#version 300 es
precision highp float;
precision highp sampler2DArray;
uniform sampler2DArray layers;
uniform sampler2D scale_colours;
uniform highp sampler2D weights;
uniform int sources;
uniform float height;
out vec4 shown;
ivec2 pixel() { return ivec2(int(gl_FragCoord.x), int(height) - 1 - int(gl_FragCoord.y)); }
vec3 hatched(vec2 at) { return mod(at.x + at.y, 8.0) < 3.0 ? vec3(0.42) : vec3(0.30); }
`;

// The scale by half stops: the first is all below the least stop, the last all above the most.
const banded = `
uniform float least_stop, most_stop;
vec3 banded(float stops) {
    int half_stop = int(floor(clamp(2.0 * (stops - least_stop), -1.0, 2.0 * (most_stop - least_stop)))) + 1;
    return texelFetch(scale_colours, ivec2(half_stop, 0), 0).rgb;
}
`;

const summed = `
vec4 summed() {
    vec4 sum = vec4(0.0);
    ivec2 at = pixel();
    for (int i = 0; i < 4 * sources; ++i) {
        vec4 light = texelFetch(layers, ivec3(at, i), 0);
        for (int band = 0; band < 4; ++band) sum += texelFetch(weights, ivec2(band, i), 0) * light[band];
    }
    return sum;
}
`;

/** A frame as the camera shows it. */
export const frame = `${head}${summed}
uniform float grey, headroom, footroom, display_grey, upper_power, lower_power;
float decoded(float v) { return v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4); }
vec3 encoded(vec3 v) {
    return mix(12.92 * v, 1.055 * pow(max(v, vec3(0.0)), vec3(1.0 / 2.4)) - 0.055, step(vec3(0.0031308), v));
}
float value(float stops) {
    if (stops <= -footroom) return 0.0;
    if (stops >= headroom) return 1.0;
    if (stops < 0.0) return display_grey * pow(1.0 + stops / footroom, lower_power);
    return display_grey + (1.0 - display_grey) * (1.0 - pow(1.0 - stops / headroom, upper_power));
}
float bent(float reach, float power) { return reach > 0.0 ? 1.0 / pow(1.0 + pow(reach, power), 1.0 / power) : 1.0; }
void main() {
    vec3 scene = summed().rgb;
    float y = dot(scene, vec3(0.2126, 0.7152, 0.0722));
    vec3 light = vec3(0.0);
    if (y > 0.0) {
        float light_of_y = decoded(value(log2(y / grey)));
        if (light_of_y >= 1.0) {
            light = vec3(1.0);
        } else if (light_of_y > 0.0) {
            vec3 c = scene / y * light_of_y;
            float over = (max(c.r, max(c.g, c.b)) - light_of_y) / (1.0 - light_of_y);
            float under = (light_of_y - min(c.r, min(c.g, c.b))) / light_of_y;
            light = clamp(light_of_y + bent(over, 3.0) * bent(under, 8.0) * (c - light_of_y), 0.0, 1.0);
        }
    }
    shown = vec4(encoded(light), 1.0);
}`;

/** Stops over grey of the same light. Patterns that the scale does not contain: what clips, what is lost. */
export const stops = `${head}${summed}${banded}
uniform float grey, headroom, footroom;
void main() {
    float y = summed().a;
    float over = y > 0.0 ? log2(y / grey) : -100.0;
    vec2 at = gl_FragCoord.xy;
    if (over >= headroom) shown = vec4(vec3(mod(floor(at.x / 3.0) + floor(at.y / 3.0), 2.0)), 1.0);
    else if (over <= -footroom) shown = vec4(vec3(all(lessThan(mod(at, 6.0), vec2(2.0))) ? 0.45 : 0.0), 1.0);
    else shown = vec4(banded(over), 1.0);
}`;

/** Lux in stops over what the exposure asks for. */
export const map = `${head}${banded}
uniform float asked;
void main() {
    float lux = 0.0;
    ivec2 at = pixel();
    for (int s = 0; s < sources; ++s) lux += texelFetch(weights, ivec2(0, s), 0).r * texelFetch(layers, ivec3(at, s), 0).r;
    if (!(lux >= 0.0)) shown = vec4(hatched(gl_FragCoord.xy), 1.0);
    else shown = vec4(banded(lux > 0.0 ? log2(lux / asked) : -100.0), 1.0);
}`;
