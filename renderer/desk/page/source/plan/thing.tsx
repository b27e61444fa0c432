// One thing on the plan: a sign that can be picked up with the pointer or the keys.
import { useRef } from "preact/hooks";
import { below, metres } from "../light/numbers.ts";
import { rows } from "../light/model.ts";
import { stops_of } from "../light/levels.ts";
import { picked } from "../program/document.ts";
import { new_token } from "../program/edits.ts";
import type { Thing } from "../program/messages.ts";
import { handle_reach, to_place, to_screen, type Frame, type Label } from "./geometry.ts";
import { gesture, movable, move_to, turn_by, turn_to, turnable } from "./moves.ts";
import { half_of, Sign } from "./signs.tsx";

/** "−1.3" beside a lamp, "off" if it is; nothing beside what has no level. */
export function level_beside(thing: Thing): string {
    if (thing.kind !== "lamp") return "";
    const row = rows.value.find((r) => r.source.name === thing.name);
    const on = row?.force.on ?? thing.on ?? true;
    const level = row?.force.level ?? thing.share ?? 1;
    if (!on || level <= 0) return "off";
    const stops = stops_of(level);
    return stops > -0.05 ? "full" : `${below(stops)} stops`;
}

function spoken(thing: Thing): string {
    const [x, y, z] = thing.at;
    const level = level_beside(thing);
    const where = `${metres(x)} right, ${metres(y)} into the room, ${metres(z)} metres up`;
    return `${thing.kind} ${thing.name}${level ? `, ${level}` : ""}, ${where}`;
}

const step = 0.05;
const fine = 0.01;

interface Props {
    thing: Thing;
    frame: Frame;
    label: Label;
    svg: () => SVGSVGElement | null;
}

function pointed(event: PointerEvent, svg: SVGSVGElement, frame: Frame): [number, number] {
    const box = svg.getBoundingClientRect();
    return to_place(frame, event.clientX - box.left, event.clientY - box.top);
}

/** Where a finger finds it: round, or along a panel. */
function Touch({ thing, scale }: { thing: Thing; scale: number }) {
    if (!["board", "flag", "cloth", "net"].includes(thing.kind))
        return <circle class="touch" r={Math.max(14, Math.max(...half_of(thing)) * scale + 4)} />;
    const long = Math.max(28, (thing.size?.[0] ?? 0) * scale + 10);
    return <rect class="touch" x={-11} y={-long / 2} width={22} height={long} rx={8} />;
}

export function PlanThing({ thing, frame, label, svg }: Props) {
    const drag = useRef<{ token: string; dx: number; dy: number; from: Thing; gone: boolean } | null>(null);
    const turn = useRef<string | null>(null);
    const [x, y] = to_screen(frame, thing.at[0], thing.at[1]);
    const is_picked = picked.value === thing.name;
    const can = movable(thing);
    const level = level_beside(thing);

    const down = (event: PointerEvent) => {
        picked.value = thing.name;
        const element = svg();
        if (!can || !element || event.button !== 0) return;
        const [px, py] = pointed(event, element, frame);
        drag.current = { token: new_token(), dx: thing.at[0] - px, dy: thing.at[1] - py, from: thing, gone: false };
        (event.currentTarget as Element).setPointerCapture(event.pointerId);
        event.stopPropagation();
    };
    const drag_on = (event: PointerEvent) => {
        const held = drag.current;
        const element = svg();
        if (!held || !element) return;
        const [px, py] = pointed(event, element, frame);
        const at = [px + held.dx, py + held.dy, thing.at[2]] as const;
        // A click that trembles is not yet a movement.
        if (!held.gone && Math.hypot(at[0] - held.from.at[0], at[1] - held.from.at[1]) * frame.scale < 3) return;
        held.gone = true;
        move_to(thing, at, held.token);
    };
    const key = (event: KeyboardEvent) => {
        const by = event.shiftKey ? fine : step;
        const way = {
            ArrowLeft: [-by, 0, 0],
            ArrowRight: [by, 0, 0],
            ArrowUp: [0, by, 0],
            ArrowDown: [0, -by, 0],
            PageUp: [0, 0, by],
            PageDown: [0, 0, -by],
        }[event.key];
        if (event.key === "Enter" || event.key === " ") picked.value = is_picked ? null : thing.name;
        else if (event.key === "Escape" && drag.current) {
            move_to(thing, drag.current.from.at, drag.current.token);
            drag.current = null;
        } else if (way && can) {
            picked.value = thing.name;
            move_to(thing, [thing.at[0] + way[0]!, thing.at[1] + way[1]!, thing.at[2] + way[2]!], gesture(thing.name));
        } else return;
        event.preventDefault();
    };
    const handle = turnable(thing) && is_picked;
    const far = handle_reach * frame.scale;
    const facing = thing.facing ?? 0;
    return (
        <g
            class={`thing ${thing.kind}${is_picked ? " picked" : ""}${level === "off" ? " off" : ""}${thing.active === false ? " aside" : ""}`}
        >
            <g
                transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}
                tabindex={0}
                role="button"
                aria-label={spoken(thing)}
                aria-pressed={is_picked}
                aria-roledescription={can ? "movable" : undefined}
                class={can ? "grip movable" : "grip"}
                data-name={thing.name}
                onPointerDown={down}
                onPointerMove={drag_on}
                onPointerUp={() => (drag.current = null)}
                onPointerCancel={() => (drag.current = null)}
                onClick={(event) => event.stopPropagation()}
                onKeyDown={key}
            >
                <title>{thing.editable === false && thing.why ? `${thing.name}: ${thing.why}` : thing.name}</title>
                <g transform={`rotate(${-facing})`}>
                    <Touch thing={thing} scale={frame.scale} />
                    <Sign thing={thing} scale={frame.scale} />
                </g>
            </g>
            <text class="label" x={label.x} y={label.y} text-anchor={label.anchor}>
                {thing.name}
                {level && (
                    <tspan class="label-level" x={label.x} dy="1.15em">
                        {level}
                    </tspan>
                )}
            </text>
            {handle && (
                <g transform={`translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${-facing})`} class="aim">
                    <path class="aim-line" d={`M${0.2 * frame.scale} 0H${far - 7}`} />
                    <circle
                        class="aim-handle"
                        cx={far}
                        r={7}
                        tabindex={0}
                        role="slider"
                        aria-label={`Turn ${thing.name}`}
                        aria-valuemin={-180}
                        aria-valuemax={180}
                        aria-valuenow={Math.round(facing)}
                        aria-valuetext={`${Math.round(facing)} degrees`}
                        data-aim={thing.name}
                        onPointerDown={(event) => {
                            turn.current = new_token();
                            event.currentTarget.setPointerCapture(event.pointerId);
                            event.stopPropagation();
                        }}
                        onPointerMove={(event) => {
                            const element = svg();
                            if (!turn.current || !element) return;
                            turn_to(thing, ...pointed(event, element, frame), turn.current);
                        }}
                        onPointerUp={() => (turn.current = null)}
                        onPointerCancel={() => (turn.current = null)}
                        onClick={(event) => event.stopPropagation()}
                        onKeyDown={(event) => {
                            const by = event.shiftKey ? 1 : 5;
                            const left = event.key === "ArrowLeft" || event.key === "ArrowUp";
                            const right = event.key === "ArrowRight" || event.key === "ArrowDown";
                            if (!left && !right) return;
                            event.preventDefault();
                            turn_by(thing, left ? by : -by, gesture(`${thing.name} turn`));
                        }}
                    />
                </g>
            )}
        </g>
    );
}
