// One thing on the plan: a sign that can be picked up with the pointer or the keys.
import { below, metres } from "../light/numbers.ts";
import { rows } from "../light/model.ts";
import { stops_of } from "../light/levels.ts";
import type { Thing } from "../program/messages.ts";
import { Aim } from "./aim.tsx";
import { to_screen, type Frame, type Label } from "./geometry.ts";
import { useHold, type Svg } from "./hold.ts";
import { turnable } from "./moves.ts";
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

export function spoken(thing: Thing, kind: string = thing.kind): string {
    const [x, y, z] = thing.at;
    const level = level_beside(thing);
    const where = `${metres(x)} right, ${metres(y)} into the room, ${metres(z)} metres up`;
    return `${kind} ${thing.name}${level ? `, ${level}` : ""}, ${where}`;
}

interface Props {
    thing: Thing;
    frame: Frame;
    label: Label;
    svg: Svg;
}

/** Where a finger finds it: round, or along a panel. */
function Touch({ thing, scale }: { thing: Thing; scale: number }) {
    if (!["board", "flag", "cloth", "net"].includes(thing.kind))
        return <circle class="touch" r={Math.max(14, Math.max(...half_of(thing)) * scale + 4)} />;
    const long = Math.max(28, (thing.size?.[0] ?? 0) * scale + 10);
    return <rect class="touch" x={-11} y={-long / 2} width={22} height={long} rx={8} />;
}

export function PlanThing({ thing, frame, label, svg }: Props) {
    const { pointer, onKeyDown, can, is_picked } = useHold(thing, frame, svg);
    const [x, y] = to_screen(frame, thing.at[0], thing.at[1]);
    const level = level_beside(thing);
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
                {...pointer}
                onKeyDown={onKeyDown}
            >
                <title>{thing.editable === false && thing.why ? `${thing.name}: ${thing.why}` : thing.name}</title>
                <g transform={`rotate(${-(thing.facing ?? 0)})`}>
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
            {turnable(thing) && is_picked && <Aim thing={thing} frame={frame} svg={svg} />}
        </g>
    );
}
