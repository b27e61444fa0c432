// What stands in the place, seen from above and to scale: boxes, rough models, hung pictures; and the lines of a place
// that is a model itself.
import type { ComponentChildren } from "preact";
import type { Furniture, Line, Plan, Structure, Thing } from "../program/messages.ts";
import { Aim } from "./aim.tsx";
import { to_screen, type Frame } from "./geometry.ts";
import { useHold, type Svg } from "./hold.ts";
import { as_moved, turnable } from "./moves.ts";
import { spoken } from "./thing.tsx";

/** Boxes have no lines of their own. */
export function word_for(piece: Thing): "box" | "model" | "picture" {
    if (piece.fields?.["picture"] !== undefined) return "picture";
    return piece.fields?.["obj"] !== undefined ? "model" : "box";
}

function drawn(lines: readonly Line[], to: (x: number, y: number) => readonly [number, number]): string {
    return lines
        .map((line) => {
            let words = "";
            for (let i = 0; i + 1 < line.length; i += 2) {
                const [x, y] = to(line[i]!, line[i + 1]!);
                words += `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`;
            }
            return words;
        })
        .join("");
}

/** Pixels about the piece's place. */
const about = (scale: number) => (x: number, y: number) => [x * scale, -y * scale] as const;

function box_lines(piece: Furniture): Line[] {
    const [w, d] = [piece.size[0] / 2, piece.size[1] / 2];
    return [[-w, -d, w, -d, w, d, -w, d, -w, -d]];
}

function ground_of(piece: Furniture): Line[] {
    return piece.cut ? [...(piece.lower ?? []), ...piece.cut] : box_lines(piece);
}

/** Left, right, lowest and highest of its lines about its place, m. */
function reach_of(piece: Furniture): [number, number, number, number] {
    const all = ground_of(piece).flat();
    const [xs, ys] = [0, 1].map((odd) => all.filter((_, i) => i % 2 === odd)) as [number[], number[]];
    return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
}

/** Whether any of it can lie in the drawing. */
function in_drawing(piece: Furniture, frame: Frame): boolean {
    const [left, right, low, high] = reach_of(piece);
    const turn = ((piece.facing ?? 0) * Math.PI) / 180;
    const corners = [left, right].flatMap((u) =>
        [low, high].map((v) =>
            to_screen(
                frame,
                piece.at[0] + u * Math.cos(turn) - v * Math.sin(turn),
                piece.at[1] + u * Math.sin(turn) + v * Math.cos(turn),
            ),
        ),
    );
    const beyond = (axis: 0 | 1, most: number) =>
        corners.every((c) => c[axis] < 0) || corners.every((c) => c[axis] > most);
    return !beyond(0, frame.width) && !beyond(1, frame.height);
}

function Placed({ piece, frame, children }: { piece: Furniture; frame: Frame; children: ComponentChildren }) {
    const [x, y] = to_screen(frame, piece.at[0], piece.at[1]);
    return (
        <g transform={`translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${-(piece.facing ?? 0)})`}>{children}</g>
    );
}

function Name({ piece, frame }: { piece: Furniture; frame: Frame }) {
    const [left, right, low, high] = reach_of(piece).map((m) => m * frame.scale) as [number, number, number, number];
    // Thin boxes are known by what they hang on; a picture is not.
    const flat = piece.cut !== undefined && high - low < 4;
    if (right - left < 7 * piece.name.length || (high - low < 16 && !flat)) return null;
    const y = flat ? -low + 12 : piece.cut ? -(low + high) / 2 + 4 : -low - 5;
    return (
        <text class="furniture-name" x={(left + right) / 2} y={y} text-anchor="middle">
            {piece.name}
        </text>
    );
}

interface Props {
    piece: Furniture;
    frame: Frame;
    svg: Svg;
}

/** As it lies under everything else; a hand can move it. */
export function Standing({ piece: as_told, frame, svg }: Props) {
    const piece = as_moved(as_told);
    const { pointer, can, is_picked } = useHold(piece, frame, svg, true);
    const kind = word_for(piece);
    const to = about(frame.scale);
    if (!in_drawing(piece, frame)) return null;
    return (
        <Placed piece={piece} frame={frame}>
            <g
                class={`standing ${kind}${piece.hangs ? " hangs" : ""}${can ? " can-move" : ""}${is_picked ? " held" : ""}`}
                data-piece={piece.name}
                {...pointer}
            >
                <title>{kind === "box" ? piece.name : `${piece.name}, ${kind}`}</title>
                <path class="furniture-touch" d={drawn(ground_of(piece), to)} />
                <path class="furniture" d={drawn(piece.cut ? (piece.lower ?? []) : box_lines(piece), to)} />
                {piece.cut && <path class="furniture-cut" d={drawn(piece.cut, to)} />}
                <Name piece={piece} frame={frame} />
            </g>
        </Placed>
    );
}

/** For the keys and for those who cannot see it; after lamps and people, which are moved more often. */
export function StandingByKeys({ piece: as_told, frame, svg }: Props) {
    const piece = as_moved(as_told);
    const { onKeyDown, can, is_picked } = useHold(piece, frame, svg, true);
    const words = spoken(piece, word_for(piece) === "box" ? "furniture" : word_for(piece));
    const edge = <path class="furniture-edge" d={drawn(ground_of(piece), about(frame.scale))} />;
    if (!in_drawing(piece, frame)) return null;
    if (!can)
        return (
            <Placed piece={piece} frame={frame}>
                <g role="img" aria-label={words} class="by-keys">
                    {edge}
                </g>
            </Placed>
        );
    return (
        <>
            <Placed piece={piece} frame={frame}>
                <g
                    role="button"
                    tabindex={0}
                    aria-label={words}
                    aria-pressed={is_picked}
                    aria-roledescription="movable"
                    class={`by-keys${is_picked ? " held" : ""}`}
                    data-name={piece.name}
                    onKeyDown={onKeyDown}
                >
                    {edge}
                </g>
            </Placed>
            {is_picked && turnable(piece) && <Aim thing={piece} frame={frame} svg={svg} />}
        </>
    );
}

export function StructureLines({ of, frame }: { of: Structure; frame: Frame }) {
    const to = (x: number, y: number) => to_screen(frame, x, y);
    return (
        <g role="img" aria-label="The place, a rough model, cut 1.2 metres up">
            <path class="structure-lower" d={drawn(of.lower, to)} />
            <path class="structure" d={drawn(of.cut, to)} />
            {of.openings.map((opening) => (
                <g key={opening.name} class="opening">
                    <path class="pane" d={drawn(opening.lines, to)} />
                    <title>{opening.name}</title>
                </g>
            ))}
        </g>
    );
}

/** What lies further out than the drawing goes, in words. */
export function FurtherOff({ of, frame }: { of: Plan; frame: Frame }) {
    const [lower, upper] = of.bounds;
    const out = of.furniture
        .map((piece) => as_moved(piece))
        .filter((piece) => !in_drawing(piece, frame))
        .map(({ name, at }) => {
            const [x, y] = at;
            const left = lower[0] - x;
            const right = x - upper[0];
            const near = lower[1] - y;
            const far = y - upper[1];
            const most = Math.max(left, right, near, far);
            const side = most === near ? "near" : most === far ? "far" : most === left ? "left" : "right";
            return `${name} ${most.toFixed(most < 9.95 ? 1 : 0)} m beyond the ${side} wall`;
        });
    return out.length > 0 ? <p class="further-off">Further off: {out.join(", ")}.</p> : null;
}
