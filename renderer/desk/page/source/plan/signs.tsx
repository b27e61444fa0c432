// Plan signs, seen from above and drawn to scale; the same forms as on the program's printed plans. Metres along and
// across a sign's facing are turned into pixels here.
import type { Thing } from "../program/messages.ts";

type Spot = readonly [number, number];

function path(scale: number, spots: readonly Spot[], close: boolean): string {
    const at = spots.map(([forward, left]) => `${(forward * scale).toFixed(1)} ${(-left * scale).toFixed(1)}`);
    return `M${at.join("L")}${close ? "Z" : ""}`;
}

function Shape({ scale, spots }: { scale: number; spots: readonly Spot[] }) {
    return <path class="body" d={path(scale, spots, true)} />;
}

function Line({ scale, spots, name = "stroke" }: { scale: number; spots: readonly Spot[]; name?: string }) {
    return <path class={name} d={path(scale, spots, false)} />;
}

/** Shoulders 0.45 m wide, a head, and a nose that shows the facing. */
function Person({ scale }: { scale: number }) {
    return (
        <>
            <ellipse class="body" cx={-0.02 * scale} cy={0} rx={0.12 * scale} ry={0.225 * scale} />
            <Shape
                scale={scale}
                spots={[
                    [0.14, 0.025],
                    [0.155, 0],
                    [0.14, -0.025],
                    [0.08, -0.03],
                    [0.08, 0.03],
                ]}
            />
            <ellipse class="body" cx={0.03 * scale} cy={0} rx={0.1 * scale} ry={0.078 * scale} />
        </>
    );
}

/** The glowing front at its true width, the housing behind it, and light leaving it. */
function Lamp({ scale, width }: { scale: number; width: number }) {
    const half = Math.max(width, 0.12) / 2;
    const depth = Math.min(0.25, Math.max(0.1, width * 0.35));
    return (
        <>
            <Shape
                scale={scale}
                spots={[
                    [0, half],
                    [0, -half],
                    [-depth, -0.35 * half],
                    [-depth, 0.35 * half],
                ]}
            />
            <Line
                scale={scale}
                name="glow"
                spots={[
                    [0, half],
                    [0, -half],
                ]}
            />
            {[-1, 0, 1].map((ray) => (
                <Line
                    key={ray}
                    scale={scale}
                    name="ray"
                    spots={[
                        [0.08, ray * half * 0.7],
                        [0.28, ray * (half * 0.7 + 0.08)],
                    ]}
                />
            ))}
        </>
    );
}

/** A lantern or bulb at its true width, with light leaving it all round. */
function Ball({ scale, width }: { scale: number; width: number }) {
    const half = Math.max(width, 0.08) / 2;
    return (
        <>
            <circle class="body" r={half * scale} />
            {Array.from({ length: 8 }, (_, ray) => {
                const [c, s] = [Math.cos((Math.PI * ray) / 4), Math.sin((Math.PI * ray) / 4)];
                return (
                    <Line
                        key={ray}
                        scale={scale}
                        name="ray"
                        spots={[
                            [(half + 0.05) * c, (half + 0.05) * s],
                            [(half + 0.14) * c, (half + 0.14) * s],
                        ]}
                    />
                );
            })}
        </>
    );
}

/** Edge-on, with a tick on its working side. What tells the four kinds apart is the line and the word beside it. */
function Panel({ scale, width, kind }: { scale: number; width: number; kind: string }) {
    const edge: [number, number][] = [
        [0, width / 2],
        [0, -width / 2],
    ];
    return (
        <>
            <Line scale={scale} name={`panel ${kind}`} spots={edge} />
            {kind === "board" && <Line scale={scale} name="core" spots={edge} />}
            <Line
                scale={scale}
                spots={[
                    [0, 0],
                    [0.12, 0],
                ]}
            />
        </>
    );
}

/** Body, lens, and what the sensor takes in from there. */
function Camera({ scale, thing }: { scale: number; thing: Thing }) {
    const half = thing.lens && thing.sensor ? Math.atan(thing.sensor[0] / 2 / thing.lens) : 0.3;
    const far = thing.active ? 2.2 : 0.6;
    return (
        <>
            {[-1, 1].map((side) => (
                <Line
                    key={side}
                    scale={scale}
                    name="view-edge"
                    spots={[
                        [0.1, 0],
                        [0.1 + far, side * far * Math.tan(half)],
                    ]}
                />
            ))}
            <Shape
                scale={scale}
                spots={[
                    [-0.05, 0.075],
                    [-0.05, -0.075],
                    [-0.33, -0.075],
                    [-0.33, 0.075],
                ]}
            />
            <Shape
                scale={scale}
                spots={[
                    [0.1, 0.065],
                    [0.1, -0.065],
                    [-0.05, -0.045],
                    [-0.05, 0.045],
                ]}
            />
        </>
    );
}

export function Sign({ thing, scale }: { thing: Thing; scale: number }) {
    const width = thing.size?.[0] ?? 0.2;
    switch (thing.kind) {
        case "mark":
            return <Person scale={scale} />;
        case "camera":
            return <Camera scale={scale} thing={thing} />;
        case "lamp":
            // One that shines straight down has no side to show.
            return thing.shape === "ball" || Math.abs(thing.direction?.[2] ?? 0) > 0.97 ? (
                <Ball scale={scale} width={width} />
            ) : (
                <Lamp scale={scale} width={width} />
            );
        case "meter":
            return <path class="stroke" d="M-6 0H6M0 -6V6" />;
        default:
            return <Panel scale={scale} width={width} kind={thing.kind} />;
    }
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
