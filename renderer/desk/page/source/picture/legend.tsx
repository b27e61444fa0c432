// The false-colour scale as a strip with its numbers, and as a small sign beside a figure.
import { colour } from "../program/document.ts";
import type { Scale } from "../program/messages.ts";
import { lux_text, signed } from "../light/numbers.ts";

/** As many edges as lie at or under it. */
export function band_of(stops: number, edges: readonly number[]): number {
    return edges.filter((edge) => edge <= stops).length;
}

/** The colour of each half stop, with all below the first edge before them and all over the last after them. */
export function colours_by_half_stops(scale: Scale): Scale["bands"] {
    const least = scale.edges[0] ?? 0;
    const most = scale.edges[scale.edges.length - 1] ?? 0;
    return Array.from(
        { length: 2 * (most - least) + 2 },
        (_, i) => scale.bands[band_of(least + i / 2 - 0.25, scale.edges)] ?? [0, 0, 0],
    );
}

function css(rgb: readonly number[] | undefined): string {
    return rgb ? `rgb(${rgb.join(" ")})` : "transparent";
}

/** The colour of that many stops, as on every map. The number stands beside it. */
export function Swatch({ stops }: { stops: number }) {
    const scale = colour.value?.scale;
    if (!scale) return null;
    return (
        <i
            class="swatch"
            style={{ backgroundColor: css(scale.bands[band_of(stops, scale.edges)]) }}
            aria-hidden="true"
        />
    );
}

export function Legend({ zero, unit }: { zero: number; unit: string }) {
    const scale = colour.value?.scale;
    if (!scale) return null;
    const { edges } = scale;
    const keys = scale.keys.map((key) => ({
        mark: key.mark,
        stops: unit === "lux" ? Math.log2(key.lux / zero) : key.over_grey,
    }));
    const bands = scale.bands
        .map((rgb, band) => ({ rgb, lower: edges[band - 1], upper: edges[band] }))
        .reverse()
        .map((band) => ({
            ...band,
            here: keys
                .filter((key) => key.stops >= (band.lower ?? -Infinity) && key.stops < (band.upper ?? Infinity))
                .map((key) => ({
                    ...key,
                    up: (key.stops - (band.lower ?? key.stops)) / ((band.upper ?? Infinity) - (band.lower ?? 0)),
                })),
        }));
    const planned = keys.map((key) => `${key.mark} ${signed(key.stops, 1)}`).join(", ");
    return (
        <figure
            class="legend"
            aria-label={
                `Scale: stops, and ${unit}. Zero is ${lux_text(zero)} ${unit}.` +
                (planned ? ` Planned key: ${planned}.` : "")
            }
        >
            <div class="legend-head" aria-hidden="true">
                <span>stops</span>
                <span>{unit}</span>
            </div>
            {bands.map(({ rgb, lower, upper, here }) => {
                const half = lower !== undefined && upper !== undefined && upper - lower < 1;
                const whole = lower !== undefined && Number.isInteger(lower);
                return (
                    <div
                        key={lower ?? "under"}
                        class={`step${lower === 0 ? " zero" : ""}${half ? " half" : ""}`}
                        aria-hidden="true"
                    >
                        <span>{whole ? signed(lower, 0) : ""}</span>
                        <i style={{ backgroundColor: css(rgb) }}>
                            {here.map((key) => (
                                <b
                                    key={key.mark}
                                    class="notch"
                                    style={{ bottom: `${100 * key.up}%` }}
                                    title={`planned key of ${key.mark}: ${signed(key.stops, 1)} stops`}
                                />
                            ))}
                        </i>
                        <span>{whole ? lux_text(zero * 2 ** lower) : ""}</span>
                    </div>
                );
            })}
            {planned && <figcaption aria-hidden="true">▸ key {planned}</figcaption>}
        </figure>
    );
}
