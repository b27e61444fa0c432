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

export function frame_for(plan: Plan, width: number, most_height: number): Frame {
    const e = extent(plan);
    const scale = Math.min(width / (e.right - e.left), most_height / (e.top - e.bottom));
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
    return [at(ax + far * Math.cos(along)), at(ay + far * Math.sin(along)), at(az + far * Math.max(-8, Math.min(8, rise)))];
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

export function touch(a: Box, b: Box): boolean {
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

export interface Label {
    x: number;
    y: number;
    anchor: "middle" | "start" | "end";
    box: Box;
}

/** Under the sign, or else over it, to its right, to its left: the first place that nothing stands on. */
export function label_at(
    at: readonly [number, number],
    radius: number,
    width: number,
    height: number,
    taken: readonly Box[],
    within: Frame,
): Label {
    const [x, y] = at;
    const place = (lx: number, ly: number, anchor: Label["anchor"]): Label => {
        const left = anchor === "middle" ? lx - width / 2 : anchor === "start" ? lx : lx - width;
        return { x: lx, y: ly, anchor, box: { x: left, y: ly - 11, width, height } };
    };
    const tries = [
        place(x, y + radius + 13, "middle"),
        place(x, y - radius - height + 8, "middle"),
        place(x + radius + 5, y + 4, "start"),
        place(x - radius - 5, y + 4, "end"),
        place(x + radius + 3, y + radius + 12, "start"),
        place(x - radius - 3, y - radius - 4, "end"),
        place(x + radius + 26, y + radius + 24, "start"),
        place(x - radius - 26, y - radius - 18, "end"),
        place(x, y + radius + 42, "middle"),
        place(x, y - radius - height - 22, "middle"),
    ];
    const free = (one: Label) =>
        one.box.x >= 0 &&
        one.box.y >= 0 &&
        one.box.x + one.box.width <= within.width &&
        one.box.y + one.box.height <= within.height &&
        !taken.some((box) => touch(box, one.box));
    return tries.find(free) ?? tries[0]!;
}
