// The figures of the sheet from its layers: shares, sums, stops, ratios, each with its error.
import type { Bands, Reading } from "../program/messages.ts";
import { error_in_stops } from "./numbers.ts";

/** What the exposure asks for: at its T-stop, this many lux, and grey of this many cd/m2. */
export interface Asked {
    t_stop: number;
    metered_lux: number;
    grey: number;
}

export interface Figures {
    /** Lux; of a spot, cd/m2. */
    lux: number;
    /** Relative standard error of the sum. */
    error: number;
    by_source: number[];
    /** Stops over the light that the exposure asks for, of a spot over grey; null without a camera. */
    over: number | null;
    t_stop: number | null;
}

export function lux_of(layer: Bands, weights: Bands, luminance: Bands): number {
    let sum = 0;
    for (let band = 0; band < layer.length; ++band) sum += layer[band]! * (weights[band] ?? 0) * luminance[band]!;
    return sum;
}

export function figures_of(
    reading: Reading,
    weights: readonly Bands[],
    luminance: Bands,
    changed: boolean,
    asked: Asked | null,
    /** Guesses, by source, of what a movement does; null when the light was traced as things stand. */
    times: readonly number[] | null = null,
): Figures {
    const by_source = reading.layers.map(
        (layer, source) => lux_of(layer, weights[source] ?? [], luminance) * (times?.[source] ?? 1),
    );
    const lux = by_source.reduce((sum, one) => sum + one, 0);
    // Once levels are changed here, what can be known of the sum's error is its sources' errors, in squares. Until
    // then the program's own figure is better: it knows how they vary together.
    const squares = by_source.reduce((sum, one, i) => sum + (one > 0 ? (one * (reading.errors[i] ?? NaN)) ** 2 : 0), 0);
    const error = changed || reading.error === null ? Math.sqrt(squares) / lux : reading.error;
    const spot = reading.kind === "spot";
    const over = asked && lux > 0 ? Math.log2(lux / (spot ? asked.grey : asked.metered_lux)) : null;
    return {
        lux,
        error,
        by_source,
        over,
        // Twice the light asks for the root of two in T: a stop in light is a stop in T.
        t_stop: asked && over !== null && !spot ? asked.t_stop * 2 ** (over / 2) : null,
    };
}

export interface StopsWithError {
    stops: number;
    error: number;
}

/** How far one lies over the other. Errors are taken as independent, which is on the safe side. */
export function between(one: Figures, other: Figures): StopsWithError | null {
    if (!(one.lux > 0 && other.lux > 0)) return null;
    return { stops: Math.log2(one.lux / other.lux), error: error_in_stops(Math.hypot(one.error, other.error)) };
}

/** A difference of under three errors may be chance. */
export function within_noise(difference: StopsWithError): boolean {
    return Math.abs(difference.stops) < 3 * difference.error;
}

/** The name of a reading without its mark: "near cheek". */
export function short_name(reading: { name: string; mark: string }): string {
    return reading.mark && reading.name.startsWith(`${reading.mark} `)
        ? reading.name.slice(reading.mark.length + 1)
        : reading.name;
}

export interface Group<T> {
    mark: string;
    readings: T[];
}

/** Readings of each face together, in the order in which marks come first; meters placed by hand at the end. */
export function groups_of<T extends { name: string; mark: string }>(readings: readonly T[]): Group<T>[] {
    const groups = new Map<string, T[]>();
    for (const reading of readings) {
        const mark = short_name(reading) === reading.name ? "" : reading.mark;
        const group = groups.get(mark);
        if (group) group.push(reading);
        else groups.set(mark, [reading]);
    }
    const by_hand = groups.get("");
    groups.delete("");
    const all = [...groups].map(([mark, of]) => ({ mark, readings: of }));
    return by_hand ? [...all, { mark: "", readings: by_hand }] : all;
}
