// Levels as people say them: stops under full, a share, on or off.

/** Stops from this to full are what the slider spans; the program takes any share above nothing. */
export const lowest_stops = -8;

export function stops_of(share: number): number {
    return share > 0 ? Math.log2(share) : -Infinity;
}

export function share_of(stops: number): number {
    return 2 ** stops;
}

/** "50%", "-1 stop", "−2/3", "0.5 stops": a share of full output; null when it is none of these. */
export function level_from(text: string): number | null {
    const words = text.trim().toLowerCase().replace(/[−–]/g, "-").replace(",", ".");
    if (words === "full") return 1;
    const number = String.raw`([+-]?\d*\.?\d+)`;
    const percent = new RegExp(`^${number}\\s*%$`).exec(words);
    if (percent) return within(Number(percent[1]) / 100);
    const fraction = /^([+-]?)(?:(\d+)\s+)?(\d+)\/([1-9]\d*)\s*(?:stops?)?$/.exec(words);
    if (fraction) {
        const size = Number(fraction[2] ?? 0) + Number(fraction[3]) / Number(fraction[4]);
        return within(share_of(fraction[1] === "-" ? -size : size));
    }
    const stops = new RegExp(`^${number}\\s*(?:stops?)?$`).exec(words);
    if (stops) return within(share_of(Number(stops[1])));
    return null;
}

function within(share: number): number | null {
    return share >= 0 && share <= 1 + 1e-9 ? Math.min(1, share) : null;
}

/** How a level is written into the file: stops, as the crew says it, to a hundredth. */
export function level_text(share: number): string {
    if (share <= 0) return "0%";
    const stops = Math.round(stops_of(share) * 100) / 100;
    if (stops >= 0) return "100%";
    return `${stops} ${stops === -1 ? "stop" : "stops"}`;
}
