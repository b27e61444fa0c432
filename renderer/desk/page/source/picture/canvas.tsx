// One picture of the set-up: painted from layers whenever light or look changes, and a place to point at.
import { useEffect, useRef, useState } from "preact/hooks";
import { useSignalEffect, type ReadonlySignal } from "@preact/signals";
import type { HeldPicture } from "../program/stream.ts";
import { signed } from "../light/numbers.ts";
import { painter_for, type Light, type Painter, type Showing } from "./painter.ts";
import { printed_on, type Printed } from "./printed.ts";

interface Props {
    held: ReadonlySignal<HeldPicture | null>;
    light: ReadonlySignal<Light | null>;
    showing: ReadonlySignal<Showing>;
    label: string;
    /** Shares of the picture's width and height that were pointed at. */
    point?: (u: number, v: number) => void;
    painted?: () => void;
    /** Numbers printed on false colour. */
    numbers?: boolean;
    /** Width over height of what is delivered; the rest is dimmed. */
    delivery?: number | null;
}

/** What lies outside the delivered picture, as an outline of it with all around it dimmed. */
function Delivered({ aspect, of }: { aspect: number; of: number }) {
    const high = aspect > of ? of / aspect : 1;
    const wide = aspect < of ? aspect / of : 1;
    const across = `${50 * (1 - wide)}%`;
    const down = `${50 * (1 - high)}%`;
    return <i class="delivered" style={{ left: across, right: across, top: down, bottom: down }} aria-hidden="true" />;
}

export function LightCanvas({ held, light, showing, label, point, painted, numbers = true, delivery = null }: Props) {
    const canvas = useRef<HTMLCanvasElement>(null);
    const painter = useRef<Painter | null | undefined>(undefined);
    const frame = useRef(0);
    const [able, set_able] = useState(true);
    const [printed, set_printed] = useState<Printed[]>([]);
    const [cross, set_cross] = useState<{ u: number; v: number } | null>(null);

    const paint = () => {
        frame.current = 0;
        const picture = held.peek();
        const now = light.peek();
        if (!canvas.current || !picture || !now) return;
        if (painter.current === undefined) {
            painter.current = painter_for(canvas.current);
            set_able(painter.current !== null);
        }
        painter.current?.paint(picture, showing.peek(), now);
        set_printed(numbers && showing.peek() !== "frame" ? printed_on(picture, now) : []);
        painted?.();
    };
    // However many things change, the picture is painted once before the screen is drawn.
    useSignalEffect(() => {
        (void held.value, light.value, showing.value);
        if (!frame.current) frame.current = requestAnimationFrame(paint);
    });
    useEffect(() => () => cancelAnimationFrame(frame.current), []);
    useEffect(() => {
        const element = canvas.current;
        const restored = () => {
            painter.current = undefined;
            paint();
        };
        const lost = (event: Event) => event.preventDefault();
        element?.addEventListener("webglcontextlost", lost);
        element?.addEventListener("webglcontextrestored", restored);
        return () => {
            element?.removeEventListener("webglcontextlost", lost);
            element?.removeEventListener("webglcontextrestored", restored);
        };
    }, []);

    const key = (event: KeyboardEvent) => {
        const by = event.shiftKey ? 0.01 : 0.05;
        const way = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[event.key];
        const at = cross ?? { u: 0.5, v: 0.5 };
        if (way) {
            const within = (x: number) => Math.min(0.999, Math.max(0, x));
            set_cross({ u: within(at.u + way[0]!), v: within(at.v + way[1]!) });
        } else if (event.key === "Enter" || event.key === " ") {
            set_cross(at);
            point?.(at.u, at.v);
        } else return;
        event.preventDefault();
    };

    return (
        <div class={showing.value === "frame" ? "canvas" : "canvas false-colour"}>
            <canvas
                ref={canvas}
                width={480}
                height={270}
                role={point ? "button" : "img"}
                tabIndex={point ? 0 : -1}
                aria-label={point ? `${label}. Arrows move a cross, Enter takes a reading there.` : label}
                onKeyDown={point ? key : undefined}
                onClick={(event) => {
                    if (!point) return;
                    const box = event.currentTarget.getBoundingClientRect();
                    const u = (event.clientX - box.left) / box.width;
                    const v = (event.clientY - box.top) / box.height;
                    set_cross({ u, v });
                    point(u, v);
                }}
            />
            {delivery !== null && held.value && (
                <Delivered aspect={delivery} of={held.value.is.width / held.value.is.height} />
            )}
            {printed.map((p) => (
                <span
                    key={`${p.u},${p.v}`}
                    class="printed"
                    style={{ left: `${100 * p.u}%`, top: `${100 * p.v}%` }}
                    aria-hidden="true"
                >
                    {p.stops === null ? "" : signed(p.stops)}
                </span>
            ))}
            {cross && (
                <i class="cross" style={{ left: `${100 * cross.u}%`, top: `${100 * cross.v}%` }} aria-hidden="true" />
            )}
            {!able && (
                <p class="unable">
                    This browser has no WebGL2, so the frame and the maps cannot be drawn here; the sheet and the plan
                    work as ever.
                </p>
            )}
        </div>
    );
}
