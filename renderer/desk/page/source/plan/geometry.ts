// The plan to scale: metres of the place to pixels of the drawing, y up to y down.
import type { Plan, Point, Thing } from "../program/messages.ts";

export interface Frame {
    /** Place coordinates of the drawing's lower left corner. */
    left: number;
    bottom: number;
    /** Pixels a metre. */
    scale: number;
    width: number;
    height: number;
}

/** Things further out than this are not what a plan of the room is about. */
const reach = 4;
const margin = 0.35;

export function extent(plan: Plan): { left: number; bottom: number; right: number; top: number } {
    const [lower, upper] = plan.bounds;
    let [left, bottom, right, top] = [lower[0], lower[1], upper[0], upper[1]];
    for (const thing of plan.things) {
        const [x, y] = thing.at;
        if (x < lower[0] - reach || x > upper[0] + reach || y < lower[1] - reach || y > upper[1] + reach) continue;
        left = Math.min(left, x);
        right = Math.max(right, x);
        bottom = Math.min(bottom, y);
        top = Math.max(top, y);
    }
    return { left: left - margin, bottom: bottom - margin, right: right + margin, top: top + margin };
}

/** Pixels under the plan, for the bar of the scale. */
const foot = 18;

/** The room itself gets the height that there is; what stands outside adds to it, up to as much again. */
export function frame_for(plan: Plan, width: number, room_height: number): Frame {
    const e = extent(plan);
    const [lower, upper] = plan.bounds;
    const scale = Math.min(
        width / (e.right - e.left),
        room_height / (upper[1] - lower[1] + 2 * margin),
        (2 * room_height) / (e.top - e.bottom),
    );
    const height = scale * (e.top - e.bottom) + foot;
    // What is left over in width is shared out, so that the room stands in the middle.
    const spare = width / scale - (e.right - e.left);
    return { left: e.left - spare / 2, bottom: e.bottom, scale, width, height };
}

export function to_screen(f: Frame, x: number, y: number): [number, number] {
    return [(x - f.left) * f.scale, f.height - foot - (y - f.bottom) * f.scale];
}

export function to_place(f: Frame, x: number, y: number): [number, number] {
    return [f.left + x / f.scale, f.bottom + (f.height - foot - y) / f.scale];
}

export function to_centimetre(value: number): number {
    return Math.round(value * 100) / 100;
}

/** How far off a turning handle stands, m. */
export const handle_reach = 0.75;

/** Where a thing's aim is turned to by pointing at a place: its tilt is kept. */
export function aim_through(thing: Thing, x: number, y: number): Point {
    const [ax, ay, az] = thing.at;
    const d = direction_of(thing);
    const flat = Math.hypot(d[0], d[1]);
    const far = Math.max(0.3, Math.hypot(x - ax, y - ay));
    const along = Math.atan2(y - ay, x - ax);
    // Nearly straight down has no side to turn to: then it looks at the place at half a metre a metre.
    const rise = flat > 0.05 ? d[2] / flat : -0.5;
    const at = (v: number) => to_centimetre(v);
    return [
        at(ax + far * Math.cos(along)),
        at(ay + far * Math.sin(along)),
        at(az + far * Math.max(-8, Math.min(8, rise))),
    ];
}

export function direction_of(thing: Thing): Point {
    if (thing.direction) return thing.direction;
    if (thing.look_at) {
        const v = thing.look_at.map((c, i) => c - thing.at[i]!) as [number, number, number];
        const size = Math.hypot(...v) || 1;
        return [v[0] / size, v[1] / size, v[2] / size];
    }
    const turn = ((thing.facing ?? 0) * Math.PI) / 180;
    return [Math.cos(turn), Math.sin(turn), 0];
}

export interface Box {
    x: number;
    y: number;
    width: number;
    height: number;
}

/** Square pixels that two boxes share. */
export function overlap(a: Box, b: Box): number {
    const wide = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
    const high = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
    return wide > 0 && high > 0 ? wide * high : 0;
}

export interface Label {
    x: number;
    y: number;
    anchor: "middle" | "start" | "end";
    box: Box;
}

/** Under the sign, or else over it, beside it, further off: the first place that nothing stands on, or the least bad. */
export function label_at(
    at: readonly [number, number],
    half: readonly [number, number],
    width: number,
    height: number,
    taken: readonly Box[],
    within: Frame,
): Label {
    const [x, y] = at;
    const [right, down] = half;
    const place = (lx: number, top: number, anchor: Label["anchor"]): Label => {
        const left = anchor === "middle" ? lx - width / 2 : anchor === "start" ? lx : lx - width;
        return { x: lx, y: top + 11, anchor, box: { x: left, y: top, width, height } };
    };
    const covered = (one: Label) => {
        const { box } = one;
        const out = box.x < 0 || box.y < 0 || box.x + box.width > within.width || box.y + box.height > within.height;
        return taken.reduce((sum, other) => sum + overlap(box, other), out ? 1e6 : 0);
    };
    let best: Label | null = null;
    let least = Infinity;
    for (const away of [2, 14, 28, 44, 62])
        for (const one of [
            place(x, y + down + away, "middle"),
            place(x, y - down - away - height, "middle"),
            place(x + right + away + 2, y - height / 2, "start"),
            place(x - right - away - 2, y - height / 2, "end"),
            place(x + right * 0.7 + away, y + down * 0.7 + away, "start"),
            place(x - right * 0.7 - away, y + down * 0.7 + away, "end"),
            place(x + right * 0.7 + away, y - down * 0.7 - away - height, "start"),
            place(x - right * 0.7 - away, y - down * 0.7 - away - height, "end"),
        ]) {
            const bad = covered(one);
            if (bad === 0) return one;
            if (bad < least) [best, least] = [one, bad];
        }
    return best!;
}
