// What moving a lamp or a person does to a reading, until it is traced: the square of the distance and nothing else.
// Shadows, angles and bounced light come with the trace a moment later; the page says so meanwhile.
import type { Plan, Point, Reading, Thing } from "../program/messages.ts";

/** Nearer than this the square of the distance says nothing about a source with a size, m. */
const nearest = 0.4;
/** No guess goes further than this many times. */
const most = 16;

export type Places = ReadonlyMap<string, Point>;

function face(thing: Thing): Point {
    return [thing.at[0], thing.at[1], thing.at[2] + (thing.eyes ?? 0)];
}

export function places_of(things: readonly Thing[]): Places {
    return new Map(things.map((thing) => [thing.name, face(thing)]));
}

function square(a: Point, b: Point): number {
    return Math.max(nearest ** 2, (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2);
}

/** What lies behind a person does not go with them. */
function is_behind(reading: Reading): boolean {
    return reading.kind === "spot" && / (background|behind)[^a-z]/.test(reading.name.slice(reading.mark.length));
}

/** How many times more of this source a reading gets where things stand now than where they were traced. */
export function nearer(source: string, reading: Reading, traced: Places, now: Places): number {
    if (is_behind(reading)) return 1;
    const held = reading.mark || reading.name;
    const [s0, s1, r0, r1] = [traced.get(source), now.get(source), traced.get(held), now.get(held)];
    if (!s0 || !s1 || !r0 || !r1) return 1;
    return Math.min(most, Math.max(1 / most, square(s0, r0) / square(s1, r1)));
}

/** Where everything stood at the revisions that a trace may still be on its way for. */
export class Remembered {
    private readonly by_revision: { revision: number; places: Places }[] = [];

    add(plan: Plan): void {
        const last = this.by_revision[this.by_revision.length - 1];
        if (last && last.revision >= plan.revision) this.by_revision.length = 0;
        this.by_revision.push({ revision: plan.revision, places: places_of(plan.things) });
        if (this.by_revision.length > 64) this.by_revision.shift();
    }

    forget(): void {
        this.by_revision.length = 0;
    }

    /** Nothing where the trace is of a later plan than the page has seen: then nobody knows from where to guess. */
    at(revision: number): Places | null {
        const last = this.by_revision[this.by_revision.length - 1];
        if (!last || last.revision < revision) return null;
        let found: Places | null = null;
        for (const entry of this.by_revision) if (entry.revision <= revision) found = entry.places;
        return found ?? this.by_revision[0]?.places ?? null;
    }
}
