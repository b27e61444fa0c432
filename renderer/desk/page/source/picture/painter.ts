// Paints one canvas from layers. Uploading happens once a picture; a new level is one small buffer and one triangle.
import type { Bands, Colour } from "../program/messages.ts";
import type { HeldPicture } from "../program/stream.ts";
import { colours_by_half_stops } from "./legend.tsx";
import * as shaders from "./shaders.ts";

export type Showing = "frame" | "stops" | "map";

export interface Light {
    colour: Colour;
    /** Weights in force, source by source in the order of the picture. */
    weights: readonly Bands[];
    /** The same as one share of a source's lux: what a map can be weighed by. */
    shares: readonly number[];
    /** What lies at zero stops: cd/m2 of grey, or lux. */
    grey: number;
    asked: number;
}

class NoPainter extends Error {}

export class Painter {
    private readonly gl: WebGL2RenderingContext;
    private readonly programs = new Map<Showing, WebGLProgram>();
    private readonly layers: WebGLTexture;
    private readonly scale: WebGLTexture;
    private readonly weights: WebGLTexture;
    private held: HeldPicture | null = null;
    private painted = "";
    private scale_of: Colour["scale"];

    constructor(private readonly canvas: HTMLCanvasElement) {
        const gl = canvas.getContext("webgl2", {
            alpha: false,
            antialias: false,
            depth: false,
            preserveDrawingBuffer: true,
        });
        if (!gl) throw new NoPainter("this browser has no WebGL2");
        this.gl = gl;
        this.layers = gl.createTexture()!;
        this.scale = gl.createTexture()!;
        this.weights = gl.createTexture()!;
        gl.bindVertexArray(gl.createVertexArray());
    }

    private program(which: Showing): WebGLProgram {
        const made = this.programs.get(which);
        if (made) return made;
        const { gl } = this;
        const program = gl.createProgram()!;
        for (const [kind, text] of [
            [gl.VERTEX_SHADER, shaders.corner],
            [gl.FRAGMENT_SHADER, shaders[which]],
        ] as const) {
            const shader = gl.createShader(kind)!;
            gl.shaderSource(shader, text);
            gl.compileShader(shader);
            gl.attachShader(program, shader);
        }
        gl.linkProgram(program);
        if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost())
            throw new NoPainter(gl.getProgramInfoLog(program) ?? "a shader does not link");
        this.programs.set(which, program);
        return program;
    }

    private no_filter(target: number): void {
        const { gl } = this;
        gl.texParameteri(target, gl.TEXTURE_MIN_FILTER, gl.NEAREST);
        gl.texParameteri(target, gl.TEXTURE_MAG_FILTER, gl.NEAREST);
    }

    private upload(held: HeldPicture): void {
        if (this.held === held) return;
        const { gl } = this;
        const { width, height, sources, view } = held.is;
        const frame = view === "frame";
        const depth = frame ? 4 * sources.length : sources.length + 1;
        gl.activeTexture(gl.TEXTURE0);
        gl.bindTexture(gl.TEXTURE_2D_ARRAY, this.layers);
        gl.pixelStorei(gl.UNPACK_ALIGNMENT, 2);
        gl.texImage3D(
            gl.TEXTURE_2D_ARRAY,
            0,
            frame ? gl.RGBA16F : gl.R16F,
            width,
            height,
            Math.max(1, depth),
            0,
            frame ? gl.RGBA : gl.RED,
            gl.HALF_FLOAT,
            depth > 0 ? held.data : null,
        );
        this.no_filter(gl.TEXTURE_2D_ARRAY);
        this.held = held;
        this.canvas.width = width;
        this.canvas.height = height;
    }

    private upload_scale(colour: Colour): void {
        const { gl } = this;
        gl.activeTexture(gl.TEXTURE1);
        gl.bindTexture(gl.TEXTURE_2D, this.scale);
        if (!colour.scale || this.scale_of === colour.scale) return;
        const halves = colours_by_half_stops(colour.scale);
        const texels = new Uint8Array(4 * halves.length);
        halves.forEach((rgb, i) => texels.set([...rgb, 255], 4 * i));
        gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, halves.length, 1, 0, gl.RGBA, gl.UNSIGNED_BYTE, texels);
        this.no_filter(gl.TEXTURE_2D);
        this.scale_of = colour.scale;
    }

    paint(held: HeldPicture, showing: Showing, light: Light): void {
        const { gl } = this;
        if (gl.isContextLost()) return;
        // The sheet grows surer many times in which nothing of the picture changes.
        const by = JSON.stringify([showing, light]);
        if (this.held === held && this.painted === by) return;
        this.painted = by;
        this.upload(held);
        this.upload_scale(light.colour);
        const program = this.program(showing);
        gl.useProgram(program);
        gl.viewport(0, 0, this.canvas.width, this.canvas.height);
        const at = (name: string) => gl.getUniformLocation(program, name);
        const sources = held.is.sources.length;
        gl.uniform1i(at("layers"), 0);
        gl.uniform1i(at("scale_colours"), 1);
        gl.uniform1i(at("weights"), 2);
        gl.uniform1i(at("sources"), sources);
        gl.uniform1f(at("height"), this.canvas.height);
        if (this.scale_of) {
            const { edges } = this.scale_of;
            gl.uniform1f(at("least_stop"), edges[0] ?? 0);
            gl.uniform1f(at("most_stop"), edges[edges.length - 1] ?? 0);
        }
        if (showing === "map") {
            const shares = Array.from({ length: sources }, (_, s) => (light.shares[s] ?? 0) * held.is.scale);
            this.weigh(1, Float32Array.from(shares.flatMap((share) => [share, 0, 0, 0])));
            gl.uniform1f(at("asked"), light.asked);
        } else {
            this.weigh(4, bands_to_colour(light, sources, held.is.scale));
            const { curve } = light.colour;
            gl.uniform1f(at("grey"), light.grey);
            gl.uniform1f(at("headroom"), curve.headroom);
            gl.uniform1f(at("footroom"), curve.footroom);
            gl.uniform1f(at("display_grey"), curve.grey);
            gl.uniform1f(at("upper_power"), curve.upper_power);
            gl.uniform1f(at("lower_power"), curve.lower_power);
        }
        gl.drawArrays(gl.TRIANGLES, 0, 3);
    }

    /** A row of `width` texels for each layer. */
    private weigh(width: number, weights: Float32Array): void {
        const { gl } = this;
        gl.activeTexture(gl.TEXTURE2);
        gl.bindTexture(gl.TEXTURE_2D, this.weights);
        const rows = weights.length / (4 * width);
        const texels = rows > 0 ? weights : new Float32Array(4 * width);
        gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, width, Math.max(1, rows), 0, gl.RGBA, gl.FLOAT, texels);
        this.no_filter(gl.TEXTURE_2D);
    }
}

/** What each band of each source gives to red, green, blue and luminance; four bands are a layer, so a row. */
function bands_to_colour(light: Light, sources: number, scale: number): Float32Array {
    const { rgb, luminance } = light.colour;
    const weights = new Float32Array(64 * sources);
    for (let s = 0; s < sources; ++s) {
        const force = light.weights[s] ?? [];
        for (let band = 0; band < 16; ++band) {
            const by = (force[band] ?? 0) * scale;
            weights.set([...rgb[band]!, luminance[band]!].map((part) => part * by), 64 * s + 4 * band);
        }
    }
    return weights;
}

/** Null, once and for all, where the browser cannot. */
export function painter_for(canvas: HTMLCanvasElement): Painter | null {
    try {
        return new Painter(canvas);
    } catch (trouble) {
        if (trouble instanceof NoPainter) return null;
        throw trouble;
    }
}
