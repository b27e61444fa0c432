// The plan, to scale: the room, what stands in it, and where everything can be put.
import { computed, signal } from "@preact/signals";
import { useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { asked, floor, shares_for, weights, sheet } from "../light/model.ts";
import { metres_from } from "../light/lengths.ts";
import { TextField } from "../parts/field.tsx";
import { Legend } from "../picture/legend.tsx";
import { colour, picked, plan, read_only, report } from "../program/document.ts";
import type { Plan, Thing } from "../program/messages.ts";
import { LightCanvas } from "../picture/canvas.tsx";
import type { Light, Showing } from "../picture/painter.ts";
import { PointPopover, reading_at } from "../picture/point.tsx";
import { FurtherOff, Standing, StandingByKeys, StructureLines } from "./furniture.tsx";
import { frame_for, label_at, to_place, to_screen, type Box, type Frame, type Label } from "./geometry.ts";
import type { Svg } from "./hold.ts";
import { add_thing, as_moved } from "./moves.ts";
import { half_of } from "./signs.tsx";
import { PlanThing, level_beside } from "./thing.tsx";

/** Whether the light on a level plane lies under the plan, and how high that plane is. */
export const light_on_plan = signal(false);
export const plane_height = signal(1.2);

const map = signal<Showing>("map");
const floor_light = computed<Light | null>(() => {
    if (!colour.value) return null;
    return {
        colour: colour.value,
        weights: weights.value,
        shares: shares_for(sheet.value, weights.value),
        grey: 1,
        asked: asked.value?.metered_lux ?? 100,
    };
});

interface GroundProps {
    of: Plan;
    frame: Frame;
    svg: Svg;
}

function Ground({ of, frame, svg }: GroundProps) {
    const [lower, upper] = of.bounds;
    const [x0, y0] = to_screen(frame, lower[0], upper[1]);
    const [x1, y1] = to_screen(frame, upper[0], lower[1]);
    const lines: string[] = [];
    for (let x = Math.ceil(lower[0]); x < upper[0]; ++x) {
        const sx = to_screen(frame, x, 0)[0].toFixed(1);
        lines.push(`M${sx} ${y0.toFixed(1)}V${y1.toFixed(1)}`);
    }
    for (let y = Math.ceil(lower[1]); y < upper[1]; ++y) {
        const sy = to_screen(frame, 0, y)[1].toFixed(1);
        lines.push(`M${x0.toFixed(1)} ${sy}H${x1.toFixed(1)}`);
    }
    return (
        <>
            <path class="grid" d={lines.join("")} />
            {of.furniture.map((piece) => (
                <Standing key={piece.name} piece={piece} frame={frame} svg={svg} />
            ))}
            {of.structure && <StructureLines of={of.structure} frame={frame} />}
            {of.room && <rect class="walls" x={x0} y={y0} width={x1 - x0} height={y1 - y0} />}
            {of.openings.map((opening) => {
                const [ax, ay] = to_screen(frame, ...opening.from);
                const [bx, by] = to_screen(frame, ...opening.to);
                return (
                    <g key={opening.name} class="opening">
                        <line class="gap" x1={ax} y1={ay} x2={bx} y2={by} />
                        <line class="pane" x1={ax} y1={ay} x2={bx} y2={by} />
                        <title>{opening.name}</title>
                    </g>
                );
            })}
        </>
    );
}

/** A bar of whole metres, so that a printed or zoomed plan keeps its scale. */
function ScaleBar({ frame }: { frame: Frame }) {
    const long = frame.scale > 60 ? 1 : 2;
    const width = long * frame.scale;
    return (
        <g class="scale-bar" transform={`translate(8 ${frame.height - 8})`}>
            <path d={`M0 -4V0H${width}V-4M${width / 2} -3V0`} />
            <text x={width + 6} y={1}>
                {long} m
            </text>
        </g>
    );
}

/**
 * What usually hangs higher lies over what stands under it. By kind and by nothing else: a sign that changed its place
 * among the others would lose the keyboard's focus.
 */
const layers = ["meter", "mark", "camera", "board", "cloth", "net", "flag", "lamp"];
function depth(thing: Thing): number {
    return layers.indexOf(thing.kind);
}

/** Where every name goes, so that it covers nothing: found anew when something has moved, not when a level changes. */
function names_on(of: Plan, things: readonly Thing[], levels: readonly string[], frame: Frame): Label[] {
    const taken: Box[] = things.map((thing) => {
        const [x, y] = to_screen(frame, thing.at[0], thing.at[1]);
        const [right, down] = half_of(thing).map((metres) => Math.max(5, metres * frame.scale)) as [number, number];
        return { x: x - right, y: y - down, width: 2 * right, height: 2 * down };
    });
    const [lower, upper] = of.bounds;
    const [left, top] = to_screen(frame, lower[0], upper[1]);
    const [right, bottom] = to_screen(frame, upper[0], lower[1]);
    // A name that lies on a wall is hard to read.
    for (const y of [top, bottom]) taken.push({ x: left, y: y - 3, width: right - left, height: 6 });
    for (const x of [left, right]) taken.push({ x: x - 3, y: top, width: 6, height: bottom - top });
    return things.map((thing, i) => {
        const level = levels[i]!;
        const wide = 7.4 * Math.max(thing.name.length, level.length) + 6;
        const at = to_screen(frame, thing.at[0], thing.at[1]);
        const others = taken.filter((_, j) => j !== i);
        const half = half_of(thing).map((metres) => metres * frame.scale) as [number, number];
        const label = label_at(at, half, wide, level ? 28 : 14, others, frame);
        taken.push(label.box);
        return label;
    });
}

function useNames(of: Plan, things: readonly Thing[], frame: Frame): Label[] {
    const levels = things.map(level_beside);
    const known = useRef({ key: "", labels: [] as Label[] });
    const key = JSON.stringify([
        of.bounds,
        frame,
        things.map((t, i) => [t.name, t.at, t.facing, t.size, levels[i]!.length]),
    ]);
    if (known.current.key !== key) known.current = { key, labels: names_on(of, things, levels, frame) };
    return known.current.labels;
}

/** As much as is left under the sheet on a screen of this height, but never a stamp. */
function frame_in(of: Plan, width: number): Frame {
    return frame_for(of, width, Math.min(Math.max(360, innerHeight - 500), 640, Math.max(260, width)));
}

function Drawing({ of, width }: { of: Plan; width: number }) {
    const svg = useRef<SVGSVGElement>(null);
    const frame = useMemo(() => frame_in(of, width), [of, width, innerHeight]);
    const hold = () => svg.current;
    // Nothing of this hangs on a level.
    const ground = useMemo(() => <Ground of={of} frame={frame} svg={hold} />, [of, frame]);
    const by_keys = useMemo(
        () => of.furniture.map((piece) => <StandingByKeys key={piece.name} piece={piece} frame={frame} svg={hold} />),
        [of, frame],
    );
    const things = of.things.map(as_moved);
    const labels = useNames(of, things, frame);
    const [lower, upper] = of.bounds;
    const [left, top] = to_screen(frame, lower[0], upper[1]);
    const [right, bottom] = to_screen(frame, upper[0], lower[1]);
    const order = things.map((_, i) => i).sort((a, b) => depth(things[a]!) - depth(things[b]!));
    return (
        <div class="drawing" style={{ height: `${frame.height}px` }}>
            {light_on_plan.value && (
                <div
                    class="under-plan"
                    style={{
                        left: `${left}px`,
                        top: `${top}px`,
                        width: `${right - left}px`,
                        height: `${bottom - top}px`,
                    }}
                >
                    <LightCanvas
                        held={floor.picture}
                        light={floor_light}
                        showing={map}
                        numbers={false}
                        label={`Light on a level plane ${plane_height.value.toFixed(2)} m up`}
                    />
                </div>
            )}
            <svg
                ref={svg}
                class={light_on_plan.value ? "plan-drawing lit" : "plan-drawing"}
                width={frame.width}
                height={frame.height}
                viewBox={`0 0 ${frame.width} ${frame.height}`}
                role="group"
                aria-label={`Plan to scale, ${(upper[0] - lower[0]).toFixed(2)} by ${(upper[1] - lower[1]).toFixed(2)} metres`}
                onClick={(event) => {
                    const box = event.currentTarget.getBoundingClientRect();
                    const [x, y] = to_place(frame, event.clientX - box.left, event.clientY - box.top);
                    void reading_at({ plan: [x, y], height: plane_height.value });
                }}
            >
                {ground}
                {order.map((i) => (
                    <PlanThing
                        key={things[i]!.kind + things[i]!.name}
                        thing={things[i]!}
                        frame={frame}
                        label={labels[i]!}
                        svg={() => svg.current}
                    />
                ))}
                {by_keys}
                <ScaleBar frame={frame} />
            </svg>
        </div>
    );
}

const kinds = ["lamp", "board", "flag", "cloth", "net", "mark", "meter", "camera"];

function PutIn() {
    if (read_only.value) return null;
    return (
        <label class="put-in">
            <span class="hidden">Add</span>
            <select
                value=""
                onChange={(event) => {
                    const kind = event.currentTarget.value;
                    event.currentTarget.value = "";
                    if (kind) picked.value = add_thing(kind);
                }}
            >
                <option value="">Add…</option>
                {kinds.map((kind) => (
                    <option key={kind} value={kind}>
                        a {kind}
                    </option>
                ))}
            </select>
        </label>
    );
}

export function PlanView() {
    const holder = useRef<HTMLDivElement>(null);
    const [width, set_width] = useState(0);
    useLayoutEffect(() => {
        const element = holder.current;
        if (!element) return;
        set_width(element.clientWidth);
        const watch = new ResizeObserver(() => set_width(element.clientWidth));
        watch.observe(element);
        return () => watch.disconnect();
    }, []);
    return (
        <section class="plan" aria-labelledby="plan-name">
            <header class="bar-of-section">
                <h2 id="plan-name">Plan</h2>
                <label class="check">
                    <input
                        type="checkbox"
                        checked={light_on_plan.value}
                        onChange={(event) => (light_on_plan.value = event.currentTarget.checked)}
                    />{" "}
                    light
                </label>
                <TextField
                    label="at"
                    spoken="Height of the light on the plan, and of readings taken on it, metres"
                    value={plane_height.value.toFixed(2)}
                    width={4}
                    commit={(text) => {
                        const metres = metres_from(text);
                        if (metres === null || metres < 0)
                            return report(new Error(`“${text}” is no height; expected metres such as 1.2`));
                        plane_height.value = metres;
                    }}
                />
                <PutIn />
            </header>
            <div class="plan-and-scale">
                <div ref={holder} class="plan-holder">
                    {plan.value && width > 0 && <Drawing of={plan.value} width={width} />}
                    <PointPopover on="plan" />
                </div>
                {light_on_plan.value && <Legend zero={asked.value?.metered_lux ?? 100} unit="lux" />}
            </div>
            {plan.value && width > 0 && <FurtherOff of={plan.value} frame={frame_in(plan.value, width)} />}
        </section>
    );
}
