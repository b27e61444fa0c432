// The false-colour scale as a strip with its numbers, and as a small sign beside a figure.
import { colour } from "../program/document.ts";
import { lux_text, signed } from "../light/numbers.ts";

export function band_of(stops: number, least: number, count: number): number {
    return Math.min(count - 1, Math.max(0, Math.floor(stops) - least + 1));
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
            style={{ backgroundColor: css(scale.bands[band_of(stops, scale.least, scale.bands.length)]) }}
            aria-hidden="true"
        />
    );
}

export function Legend({ zero, unit }: { zero: number; unit: string }) {
    const scale = colour.value?.scale;
    if (!scale) return null;
    const bands = scale.bands.map((rgb, band) => ({ rgb, lower: scale.least + band - 1 })).reverse();
    return (
        <figure class="legend" aria-label={`Scale: stops, and ${unit}. Zero is ${lux_text(zero)} ${unit}.`}>
            <div class="legend-head" aria-hidden="true">
                <span>stops</span>
                <span>{unit}</span>
            </div>
            {bands.map(({ rgb, lower }) => {
                const edge = lower >= scale.least;
                return (
                    <div key={lower} class={lower === 0 ? "step zero" : "step"} aria-hidden="true">
                        <span>{edge ? signed(lower, 0) : ""}</span>
                        <i style={{ backgroundColor: css(rgb) }} />
                        <span>{edge ? lux_text(zero * 2 ** lower) : ""}</span>
                    </div>
                );
            })}
        </figure>
    );
}
