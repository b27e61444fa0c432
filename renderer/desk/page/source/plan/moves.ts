// Moving things: what the hand does is seen at once; the file follows, one step of undo a movement.
import { effect } from "@preact/signals";
import { places_of } from "../light/estimate.ts";
import { hand_on, stands_now } from "../light/model.ts";
import { all_on, as_found, file, plan, read_only } from "../program/document.ts";
import { edit, new_token } from "../program/edits.ts";
import { Held } from "../program/held.ts";
import type { Edit, Plan, Point, Thing } from "../program/messages.ts";
import { aim_through, to_centimetre } from "./geometry.ts";

const moved = new Held<{ thing: Thing }>(() => plan.value?.revision ?? 0);

// The sheet guesses from where things are held, until they are traced there.
effect(() => {
    const now = plan.value;
    if (!now) return;
    stands_now.value = places_of(now.things.map((thing) => moved.all.value[thing.name]?.thing ?? thing));
    hand_on.value = Object.values(moved.all.value).some((m) => m.revision === null);
});

/** The thing as it stands under her hand. */
export function as_moved<T extends Thing>(thing: T): T {
    return (moved.all.value[thing.name]?.thing as T | undefined) ?? thing;
}

export function movable(thing: Thing): boolean {
    return !read_only.value && thing.editable !== false;
}

export function turnable(thing: Thing): boolean {
    if (!movable(thing) || thing.kind === "meter") return false;
    return !(thing.kind === "lamp" && thing.shape === "ball");
}

function at_of(thing: Thing): number[] {
    const [x, y, z] = thing.at.map(to_centimetre) as [number, number, number];
    return thing.kind === "mark" && z === 0 ? [x, y] : [x, y, z];
}

const aim_keys: Partial<Record<Thing["kind"], string>> = {
    lamp: "aim",
    camera: "look_at",
    mark: "facing",
    furniture: "turn",
};
/** These are turned by an angle, not towards a place. */
const by_angle: readonly Thing["kind"][] = ["mark", "furniture"];

export function put(thing: Thing, edits: Edit[], token: string): Promise<void> {
    return moved.write(thing.name, moved.hold(thing.name, { thing }), edits, token);
}

export function move_to(thing: Thing, at: Point, token: string): void {
    const there: Thing = { ...thing, at: [to_centimetre(at[0]), to_centimetre(at[1]), to_centimetre(at[2])] };
    void put(there, [{ kind: thing.kind, name: thing.name, ...moved_value(thing, there) }], token);
}

/** Furniture has its height by itself; hands and keys change one of the two at a time. */
function moved_value(from: Thing, to: Thing): { key: string; value: unknown } {
    if (to.kind !== "furniture") return { key: "at", value: at_of(to) };
    const [x, y, z] = to.at;
    const raised = x === to_centimetre(from.at[0]) && y === to_centimetre(from.at[1]);
    return raised && z !== from.at[2] ? { key: "from_floor", value: z } : { key: "at", value: [x, y] };
}

/** Turns a thing to a place on the plan. */
export function turn_to(thing: Thing, x: number, y: number, token: string): void {
    const [ax, ay] = thing.at;
    const facing = (Math.atan2(y - ay, x - ax) * 180) / Math.PI;
    const key = aim_keys[thing.kind] ?? "facing";
    const value = by_angle.includes(thing.kind) ? Math.round(facing) : aim_through(thing, x, y);
    const there: Thing = { ...thing, facing, aim_name: null };
    if (typeof value !== "number") {
        const v = value.map((c, i) => c - thing.at[i]!);
        const size = Math.hypot(...v) || 1;
        there.direction = [v[0]! / size, v[1]! / size, v[2]! / size];
        if (thing.kind === "camera") there.look_at = value;
    }
    void put(there, [{ kind: thing.kind, name: thing.name, key, value }], token);
}

export function turn_by(thing: Thing, degrees: number, token: string): void {
    const angle = (((thing.facing ?? 0) + degrees) * Math.PI) / 180;
    const far = thing.look_at ? Math.hypot(thing.look_at[0] - thing.at[0], thing.look_at[1] - thing.at[1]) : 1.5;
    turn_to(thing, thing.at[0] + far * Math.cos(angle), thing.at[1] + far * Math.sin(angle), token);
}

/** Key presses that follow each other closely are one movement. */
let last = { name: "", at: 0, token: "" };
export function gesture(name: string): string {
    const now = performance.now();
    const token = last.name === name && now - last.at < 1000 ? last.token : new_token();
    last = { name, at: now, token };
    return token;
}

/** A name that nothing in the plan has yet. */
export function free_name(word: string, in_plan: Plan): string {
    const names = new Set(all_on(in_plan).map((t) => t.name));
    if (!names.has(word)) return word;
    let n = 2;
    while (names.has(`${word} ${n}`)) ++n;
    return `${word} ${n}`;
}

export function add_thing(kind: string): string | null {
    const now = plan.value;
    if (!now) return null;
    const [lower, upper] = now.bounds;
    const [x, y] = [to_centimetre((lower[0] + upper[0]) / 2), to_centimetre((lower[1] + upper[1]) / 2)];
    const mark = now.things.find((t) => t.kind === "mark")?.name;
    const to: unknown = mark ?? [x, to_centimetre(y - 1), 1.2];
    const name = free_name(kind, now);
    const values: Record<string, Record<string, unknown>> = {
        board: { at: [x, y, 1.3], facing: to },
        flag: { at: [x, y, 1.6], facing: to },
        cloth: { at: [x, y, 1.6], facing: to, kind: "1 1/2 stops, spread 100" },
        net: { at: [x, y, 1.5], facing: to, kind: "single" },
        lamp: { shape: "box", at: [x, y, 2], aim: to, size: 0.6, output: "2000 lx at 1 m" },
        mark: { at: [x, y], facing: 270 },
        meter: { at: [x, y, 1.2], facing: "up" },
        camera: { at: [x, y, 1.3], look_at: to },
    };
    void edit([{ do: "add", kind, name, values: values[kind] ?? {} }], new_token());
    return name;
}

/** A set-up with a camera of its own, which begins where this one's stands. */
export function setup_like_this(name: string): Edit[] {
    const now = plan.value;
    const camera = now?.things.find((t) => t.kind === "camera" && t.active);
    const edits: Edit[] = [];
    // A file without set-ups is one itself: it stays beside the new one, named as its camera is.
    if (file.value?.setups[0]?.name === as_found)
        edits.push({ do: "add", kind: "setup", name: camera?.name ?? "first", values: camera ? { camera: camera.name } : {} });
    if (!now || !camera) return [...edits, { do: "add", kind: "setup", name, values: {} }];
    const own = free_name(`${name} camera`, now);
    const { iso, t_stop } = now.exposure;
    const values = {
        at: camera.at,
        look_at: camera.aim_name ?? camera.look_at,
        lens: camera.lens,
        sensor: camera.sensor,
        iso,
        t_stop,
    };
    edits.push({ do: "add", kind: "camera", name: own, values, where: "file" });
    return [...edits, { do: "add", kind: "setup", name, values: { camera: own } }];
}

export function remove_thing(thing: Thing): void {
    void edit([{ do: "remove", kind: thing.kind, name: thing.name }], new_token());
}
