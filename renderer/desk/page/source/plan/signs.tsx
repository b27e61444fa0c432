// Plan signs, seen from above and drawn to scale: the shapes that the program's printed plans have, as it sends them.
import type { Line, Thing } from "../program/messages.ts";

/** Metres along and across a sign's facing, as a path in pixels. */
function path(scale: number, along: Line): string {
    const at: string[] = [];
    for (let i = 0; i + 1 < along.length; i += 2)
        at.push(`${(along[i]! * scale).toFixed(1)} ${(-along[i + 1]! * scale).toFixed(1)}`);
    return `M${at.join("L")}`;
}

/** What a camera's sensor takes in. */
function Sight({ scale, thing }: { scale: number; thing: Thing }) {
    const half = thing.lens && thing.sensor ? Math.atan(thing.sensor[0] / 2 / thing.lens) : 0.3;
    const front = 0.1;
    const far = thing.active ? 2.2 : 0.6;
    return (
        <>
            {[-1, 1].map((side) => (
                <path
                    key={side}
                    class="view-edge"
                    d={path(scale, [front, 0, front + far, side * far * Math.tan(half)])}
                />
            ))}
        </>
    );
}

/** The word and the line tell the kinds of panel apart: a board is hollow. */
export function Sign({ thing, scale }: { thing: Thing; scale: number }) {
    // As on paper, a point is a cross of one size.
    if (!thing.sign) return <path class="thin" d="M-6 0H6M0 -6V6" />;
    const { bodies, lines } = thing.sign;
    const edge = lines.filter(({ pen }) => pen === "edge");
    return (
        <>
            {thing.kind === "camera" && <Sight scale={scale} thing={thing} />}
            {bodies.map((body, i) => (
                <path key={i} class="body" d={`${path(scale, body)}Z`} />
            ))}
            {lines.map(({ pen, along }, i) =>
                pen === "sight" ? null : (
                    <path key={i} class={pen === "edge" ? `edge ${thing.kind}` : pen} d={path(scale, along)} />
                ),
            )}
            {thing.kind === "board" &&
                edge.map(({ along }, i) => <path key={i} class="core" d={path(scale, along)} />)}
        </>
    );
}

/** Half of what a sign covers on the plan, right and down, m. */
export function half_of(thing: Thing): readonly [number, number] {
    const width = thing.size?.[0] ?? 0;
    if (thing.kind === "mark") return [0.2, 0.2];
    if (thing.kind === "camera") return [0.24, 0.24];
    if (thing.kind === "meter") return [0.06, 0.06];
    if (thing.kind === "lamp") return [Math.max(0.16, width / 2), Math.max(0.16, width / 2)];
    // A panel is seen edge-on.
    const turn = ((thing.facing ?? 0) * Math.PI) / 180;
    const across = (of: number) => Math.max(0.06, (width / 2) * Math.abs(of));
    return [across(Math.sin(turn)), across(Math.cos(turn))];
}
