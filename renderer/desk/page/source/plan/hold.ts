// A hand or the keys on a thing of the plan: what both do to it.
import { useRef } from "preact/hooks";
import { picked } from "../program/document.ts";
import { new_token } from "../program/edits.ts";
import type { Thing } from "../program/messages.ts";
import { to_place, type Frame } from "./geometry.ts";
import { gesture, movable, move_to } from "./moves.ts";

const step = 0.05;
const fine = 0.01;

export type Svg = () => SVGSVGElement | null;

export function pointed(event: MouseEvent, svg: SVGSVGElement, frame: Frame): [number, number] {
    const box = svg.getBoundingClientRect();
    return to_place(frame, event.clientX - box.left, event.clientY - box.top);
}

/**
 * `lies_under`: readings are taken on it. A click goes through it, and it is picked up by moving it; a finger, which
 * also scrolls the page, picks it up by a tap first.
 */
export function useHold(thing: Thing, frame: Frame, svg: Svg, lies_under = false) {
    const drag = useRef<{ token: string; dx: number; dy: number; from: Thing; gone: boolean } | null>(null);
    const dragged = useRef(false);
    const can = movable(thing);
    const is_picked = picked.value === thing.name;
    const let_go = () => {
        dragged.current = drag.current?.gone ?? false;
        drag.current = null;
    };
    const pointer = {
        onPointerDown: (event: PointerEvent) => {
            dragged.current = false;
            if (!lies_under) picked.value = thing.name;
            else if (event.pointerType === "touch" && !is_picked) return;
            const element = svg();
            if (!can || !element || event.button !== 0) return;
            const [px, py] = pointed(event, element, frame);
            drag.current = { token: new_token(), dx: thing.at[0] - px, dy: thing.at[1] - py, from: thing, gone: false };
            (event.currentTarget as Element).setPointerCapture(event.pointerId);
            event.stopPropagation();
        },
        onPointerMove: (event: PointerEvent) => {
            const held = drag.current;
            const element = svg();
            if (!held || !element) return;
            const [px, py] = pointed(event, element, frame);
            const at = [px + held.dx, py + held.dy, thing.at[2]] as const;
            // A click that trembles is not yet a movement.
            if (!held.gone && Math.hypot(at[0] - held.from.at[0], at[1] - held.from.at[1]) * frame.scale < 3) return;
            held.gone = true;
            picked.value = thing.name;
            move_to(thing, at, held.token);
        },
        onPointerUp: let_go,
        onPointerCancel: let_go,
        onClick: (event: MouseEvent) => {
            if (!lies_under || dragged.current) event.stopPropagation();
            else if ((event as PointerEvent).pointerType === "touch") picked.value = thing.name;
        },
    };
    const onKeyDown = (event: KeyboardEvent) => {
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
            // Furniture has its height in a value of its own.
            const apart = way[2] && thing.kind === "furniture";
            const token = gesture(apart ? `${thing.name} height` : thing.name);
            move_to(thing, [thing.at[0] + way[0]!, thing.at[1] + way[1]!, thing.at[2] + way[2]!], token);
        } else return;
        event.preventDefault();
    };
    return { pointer, onKeyDown, can, is_picked };
}
