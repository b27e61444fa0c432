// The handle that a picked thing is turned by.
import { useRef } from "preact/hooks";
import { new_token } from "../program/edits.ts";
import type { Thing } from "../program/messages.ts";
import { handle_reach, to_screen, type Frame } from "./geometry.ts";
import { pointed, type Svg } from "./hold.ts";
import { gesture, turn_by, turn_to } from "./moves.ts";

export function Aim({ thing, frame, svg }: { thing: Thing; frame: Frame; svg: Svg }) {
    const turn = useRef<string | null>(null);
    const [x, y] = to_screen(frame, thing.at[0], thing.at[1]);
    const far = handle_reach * frame.scale;
    const facing = thing.facing ?? 0;
    return (
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
    );
}
