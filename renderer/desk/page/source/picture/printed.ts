// Numbers printed on a false-colour picture: the mean over a few pixels round fifteen crosses. The number is what
// counts; the colour is there to find it.
import type { HeldPicture } from "../program/stream.ts";
import { half } from "./half.ts";
import type { Light } from "./painter.ts";

export interface Printed {
    /** Shares of the picture's width and height. */
    u: number;
    v: number;
    /** Stops over what lies at zero; null where nothing is measured. */
    stops: number | null;
}

const columns = 5;
const rows = 3;

/** cd/m2 or lux at a pixel. */
export function value_at(held: HeldPicture, x: number, y: number, light: Light): number {
    const { width, height, sources, scale, view } = held.is;
    const pixels = width * height;
    const at = y * width + x;
    let sum = 0;
    for (let s = 0; s < sources.length; ++s) {
        if (view !== "frame") {
            sum += half(held.data[s * pixels + at] ?? 0) * (light.shares[s] ?? 0) * scale;
            continue;
        }
        const force = light.weights[s] ?? [];
        for (let band = 0; band < 16; ++band) {
            const plane = (4 * s + (band >> 2)) * 4 * pixels;
            const bits = held.data[plane + 4 * at + (band & 3)] ?? 0;
            if (bits) sum += half(bits) * (force[band] ?? 0) * light.colour.luminance[band]! * scale;
        }
    }
    return sum;
}

export function printed_on(held: HeldPicture, light: Light): Printed[] {
    const { width, height, view } = held.is;
    const zero = view === "frame" ? light.grey : light.asked;
    const all: Printed[] = [];
    for (let row = 0; row < rows; ++row)
        for (let column = 0; column < columns; ++column) {
            const u = (column + 0.5) / columns;
            const v = (row + 0.5) / rows;
            let sum = 0;
            let count = 0;
            for (let dy = -1; dy <= 1; ++dy)
                for (let dx = -1; dx <= 1; ++dx) {
                    const x = Math.min(width - 1, Math.max(0, Math.floor(u * width) + dx));
                    const y = Math.min(height - 1, Math.max(0, Math.floor(v * height) + dy));
                    const value = value_at(held, x, y, light);
                    if (Number.isNaN(value)) continue;
                    sum += value;
                    ++count;
                }
            all.push({ u, v, stops: count > 0 && sum > 0 ? Math.log2(sum / count / zero) : null });
        }
    return all;
}
