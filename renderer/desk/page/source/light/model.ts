// The light that is in force on the page: what the program traced, at the levels and gels that she has her hand on.
import { computed, effect, signal, type ReadonlySignal } from "@preact/signals";
import { chosen, colour, file, plan } from "../program/document.ts";
import { new_token, unsaved } from "../program/edits.ts";
import { Held } from "../program/held.ts";
import type { Bands, Edit, Reading, SheetEvent, Source, Thing } from "../program/messages.ts";
import { Stream } from "../program/stream.ts";
import { nearer, Remembered, type Places } from "./estimate.ts";
import { figures_of, groups_of, lux_of, type Asked, type Figures, type Group } from "./figures.ts";
import { level_text } from "./levels.ts";
import { in_force, type InForce, type Trial } from "./weights.ts";

export const live = new Stream("live", true);
export const other = new Stream("other");
export const floor = new Stream("floor");

/** What was tried has arrived once both plan and sheet speak of a document that has it in. */
const trials = new Held<Trial & { token: string }>(() =>
    Math.min(plan.value?.revision ?? 0, live.sheet.value?.revision ?? 0),
);

/** The sheet that belongs to what is chosen; the last one stays, marked as moving, until a newer one is traced. */
export const sheet = computed(() => live.sheet.value);
export const hand_on = signal(false);
export const moving = computed(
    () => sheet.value !== null && file.value !== null && (hand_on.value || sheet.value.revision < file.value.revision),
);

export const lamps = computed(
    () => new Map<string, Thing>((plan.value?.things ?? []).filter((t) => t.kind === "lamp").map((t) => [t.name, t])),
);

export const asked = computed<Asked | null>(() => plan.value?.exposure ?? null);

export interface Row {
    source: Source;
    force: InForce;
    dimmable: boolean;
}

export const rows = computed<Row[]>(() =>
    (sheet.value?.sources ?? []).map((source) => {
        const lamp = source.kind === "lamp" ? lamps.value.get(source.name) : undefined;
        const force = in_force(source, lamp, colour.value?.lamps[source.name], trials.all.value[source.name]);
        return { source, force, dimmable: lamp !== undefined };
    }),
);

export const weights = computed<Bands[]>(() => rows.value.map((row) => row.force.weights));
const tried_anything = computed(() => Object.keys(trials.all.value).length > 0);

/** Where everything stands under her hand. */
export const stands_now = signal<Places>(new Map());
const remembered = new Remembered();
effect(() => {
    if (plan.value) remembered.add(plan.value);
});
effect(() => {
    void chosen.value;
    remembered.forget();
});

type Guess = ((source: string, reading: Reading) => number) | null;
const guess = computed<Guess>(() => {
    const now = stands_now.value;
    const traced = sheet.value && remembered.at(sheet.value.revision);
    return traced && moving.value ? (source, reading) => nearer(source, reading, traced, now) : null;
});

/** Readings, then spots. */
function all_of(of: SheetEvent | null): readonly Reading[] {
    return [...(of?.readings ?? []), ...(of?.spots ?? [])];
}

function figures(of: SheetEvent | null, by: readonly Bands[], changed: boolean, guessed: Guess): Figures[] {
    const luminance = colour.value?.luminance;
    if (!of || !luminance) return [];
    return all_of(of).map((reading) => {
        const times = guessed ? of.sources.map((source) => guessed(source.name, reading)) : null;
        return figures_of(reading, by, luminance, changed, asked.value, times);
    });
}

const sums_as_told = computed(() => figures(sheet.value, weights.value, tried_anything.value, guess.value));

/** The columns of the sheet: readings of each face side by side, each with its figures. */
export interface Column {
    reading: Reading;
    figures: Figures;
    /** The leftmost of its group: a rule stands before it. */
    first: boolean;
}
export interface Columns extends Group<Column & { name: string; mark: string }> {
    /** Whether these are spots from the lens: they stand after the meters on the same face. */
    spots: boolean;
}
function column_groups(spots: boolean): Columns[] {
    const all = all_of(sheet.value).flatMap((reading, r) => {
        const found = sums_as_told.value[r];
        if (!found || (reading.kind === "spot") !== spots) return [];
        return [{ reading, figures: found, first: false, name: reading.name, mark: reading.mark }];
    });
    return groups_of(all).map((group) => ({
        ...group,
        spots,
        readings: group.readings.map((one, i) => ({ ...one, first: i === 0 })),
    }));
}
const spots = computed(() => column_groups(true));
/** Marks with anything that the lens sees of them. */
export const spotted = computed<ReadonlySet<string>>(() => new Set(spots.value.map((group) => group.mark)));
/** Marks whose spots are folded out. */
export const spots_shown = signal<ReadonlySet<string>>(new Set());

export const columns: ReadonlySignal<Columns[]> = computed(() =>
    column_groups(false).flatMap((group) => {
        const shown = spots_shown.value.has(group.mark);
        return [group, ...(shown ? spots.value.filter((one) => one.mark === group.mark) : [])];
    }),
);

/** Tells a spot from the meter that is held at the same place. */
export function key_of(reading: Reading): string {
    return reading.kind === "spot" ? `spot ${reading.name}` : reading.name;
}

export const other_weights = computed<Bands[]>(() => (other.sheet.value?.sources ?? []).map((s) => s.now));
export const other_sums = computed<ReadonlyMap<string, Figures>>(() => {
    const sums = figures(other.sheet.value, other_weights.value, false, null);
    return new Map(all_of(other.sheet.value).flatMap((reading, r) => (sums[r] ? [[key_of(reading), sums[r]]] : [])));
});

/** What a source gives of its lux, as one share: for maps, which keep no bands. Its mean colour over all readings. */
export function shares_for(of: SheetEvent | null, by: readonly Bands[]): number[] {
    const luminance = colour.value?.luminance;
    return (of?.sources ?? []).map((_, s) => {
        const force = by[s] ?? [];
        let bare = 0;
        let now = 0;
        for (const reading of luminance ? of!.readings : []) {
            const layer = reading.layers[s] ?? [];
            now += lux_of(layer, force, luminance!);
            bare += layer.reduce((sum, band, b) => sum + band * luminance![b]!, 0);
        }
        return bare > 0 ? now / bare : force.reduce((sum, share) => sum + share, 0) / Math.max(1, force.length);
    });
}

effect(() => {
    void chosen.value;
    trials.all.value = {};
});

const timers = new Map<string, { timer: ReturnType<typeof setTimeout>; now_write: () => void }>();
const touched = new Map<string, number>();
/** Level changes that follow each other this closely are one movement of the hand, and one step of undo. */
const one_gesture = 800;
const settled_after = 120;

export interface Turn {
    level?: number;
    on?: boolean;
    gel?: string[];
}

/** Seen at once; written into the file when the hand rests. */
export function turn(lamp: string, change: Turn): void {
    const now = performance.now();
    const last = trials.all.peek()[lamp];
    const kind = Object.keys(change).join();
    const same_gesture = last && now - (touched.get(lamp + kind) ?? -Infinity) < one_gesture;
    const token = same_gesture ? last.token : new_token();
    touched.set(lamp + kind, now);
    const tried = trials.hold(lamp, { ...last, ...change, token });
    clearTimeout(timers.get(lamp)?.timer);
    const now_write = () => {
        timers.delete(lamp);
        void trials.write(lamp, tried, edits_of(lamp, tried), token);
    };
    timers.set(lamp, { timer: setTimeout(now_write, settled_after), now_write });
}

/** A page that is closed has no time to let the hand rest. */
addEventListener("pagehide", () => {
    for (const { timer, now_write } of [...timers.values()]) {
        clearTimeout(timer);
        now_write();
    }
});

/** Whether everything that was done here is known to stand in the file. */
export const written = computed(
    () => unsaved.value === 0 && Object.values(trials.all.value).every((tried) => tried.revision !== null),
);

function edits_of(lamp: string, tried: Trial): Edit[] {
    const edits: Edit[] = [];
    const say = (key: string, value: unknown) => edits.push({ kind: "lamp", name: lamp, key, value });
    if (tried.level !== undefined) say("level", level_text(tried.level));
    if (tried.on !== undefined) say("on", tried.on);
    if (tried.gel !== undefined) say("gel", tried.gel.length === 1 ? tried.gel[0] : tried.gel);
    return edits;
}
