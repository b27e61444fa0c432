// What a source gives now of what it could, band by band. Its layer was traced once, at full and without
// gel; everything on the sheet and in the frame is layers times these weights.
import type { Bands, LampColour, Source, Thing } from "../program/messages.ts";

/** What she has tried and the program has not yet answered with. */
export interface Trial {
    level?: number;
    on?: boolean;
    gel?: string[];
}

export interface InForce {
    on: boolean;
    level: number;
    gel: string[];
    weights: Bands;
}

type Steps = NonNullable<LampColour["dimmed"]>;

/** Shares at a level of a lamp whose colour hangs on it: between two steps, straight in the logarithm. */
export function dimmed_bands(steps: Steps, level: number): Bands {
    const first = steps[0]!;
    if (level >= first.level) return first.bands.map((share) => (share * level) / first.level);
    for (let i = 1; i < steps.length; ++i) {
        const above = steps[i - 1]!;
        const under = steps[i]!;
        if (level < under.level) continue;
        const along = Math.log(above.level / level) / Math.log(above.level / under.level);
        return above.bands.map((share, band) => {
            const other = under.bands[band] ?? 0;
            return share > 0 && other > 0 ? share * (other / share) ** along : share + (other - share) * along;
        });
    }
    const last = steps[steps.length - 1]!;
    return last.bands.map((share) => (share * level) / last.level);
}

function at_level(colour: LampColour | undefined, level: number, bands: number): Bands {
    return colour?.dimmed?.length ? dimmed_bands(colour.dimmed, level) : new Array<number>(bands).fill(level);
}

/** `lamp` and `colour` are of the source if it is a lamp; sun and sky have no dimmer. */
export function in_force(
    source: Source,
    lamp: Thing | undefined,
    colour: LampColour | undefined,
    trial: Trial | undefined,
): InForce {
    const on = trial?.on ?? lamp?.on ?? true;
    const level = trial?.level ?? lamp?.share ?? 1;
    const gel = trial?.gel ?? lamp?.gel ?? [];
    const bands = source.now.length;
    if (!trial || !lamp) return { on, level, gel, weights: source.now };
    if (!on || level <= 0) return { on, level, gel, weights: new Array<number>(bands).fill(0) };
    const weights = at_level(colour, level, bands).slice();
    if (trial.gel === undefined && !lamp.gel) {
        // A gel given by numbers has no name to look up: what it passes is what is in force over what the lamp
        // alone would give.
        const alone = at_level(colour, lamp.share ?? 1, bands);
        for (let b = 0; b < bands; ++b) weights[b]! *= alone[b]! > 0 ? source.now[b]! / alone[b]! : 1;
    }
    for (const name of gel) {
        const shares = colour?.gels[name];
        for (let b = 0; b < bands; ++b) weights[b]! *= shares?.[b] ?? 1;
    }
    return { on, level, gel, weights };
}
