// What page and program say to each other. Only the parts that the page reads are named.

/** Sixteen bands of light, or shares of it. */
export type Bands = readonly number[];
export type Point = readonly [number, number, number];

export interface SetupEntry {
    name: string;
    options: string[];
}

/** The document as a whole. `file` is empty while there is none. */
export interface DocumentState {
    revision: number;
    file: string | null;
    why?: string;
    title: string;
    read_only: boolean;
    can_undo: boolean;
    can_redo: boolean;
    setups: SetupEntry[];
    /** The file on the disk cannot be read: the one line that says why. The last sound state stays. */
    trouble?: { line: string } | null;
    /** Somebody else wrote the file too: what happened to both versions. */
    conflict?: Conflict | null;
    words?: { gels?: string[] };
    caution?: string;
    /** What was guessed because the file does not say it. */
    remarks?: string[];
}

export interface Conflict {
    message: string;
    /** Two versions, and both are kept; else the file is away, or open at another desk. */
    both_kept?: boolean;
    /** The file that holds what was written here meanwhile. */
    ours?: string;
}

export type ThingKind = "mark" | "lamp" | "board" | "flag" | "cloth" | "net" | "camera" | "meter" | "furniture";

/** How a thing looks on a plan, in metres: along the way it faces and to its left, by turns. */
export interface SignShape {
    bodies: Line[];
    lines: { pen: "thin" | "ray" | "sight" | "tick" | "front" | "edge"; along: Line }[];
}

export interface Thing {
    kind: ThingKind;
    name: string;
    at: Point;
    facing: number | null;
    aim_name?: string | null;
    size?: readonly [number, number, number?] | null;
    direction?: Point | null;
    look_at?: Point | null;
    shape?: string | null;
    lens?: number | null;
    sensor?: readonly [number, number] | null;
    /** Of a lamp: its level as a share of full output. */
    share?: number;
    gel?: string[] | null;
    on?: boolean;
    kelvin?: number;
    watts?: number;
    sign?: SignShape;
    pose?: string;
    height?: number;
    /** Of a mark: how high the person's eyes are above it, m. */
    eyes?: number;
    mark?: string;
    /** Its values as the file has them, key by key. */
    fields?: Record<string, string>;
    editable?: boolean;
    why?: string | null;
    active?: boolean;
}

export interface Opening {
    name: string;
    wall: string;
    from: readonly [number, number];
    to: readonly [number, number];
    sill: number;
    head: number;
}

/** x, y, x, y ... in metres. */
export type Line = readonly number[];

/** A box; or a model or picture, with its lines about `at` before it is turned. `at` is its foot. */
export interface Furniture extends Thing {
    size: Point;
    top: number;
    hangs: boolean;
    cut?: Line[];
    lower?: Line[];
}

/** A place that is a model itself. */
export interface Structure {
    cut: Line[];
    lower: Line[];
    openings: { name: string; lines: Line[] }[];
}

export interface Exposure {
    camera: string | null;
    iso: number;
    t_stop: number;
    nd: number;
    shutter: number;
    fps: number;
    white_balance: number | null;
    metered_lux: number;
    grey: number;
    headroom: number;
    footroom: number;
}

export interface Day {
    dark: boolean;
    date: string;
    time: string;
    sky: string;
}

export interface Plan {
    revision: number;
    setup: string;
    option: string;
    room: { width: number; depth: number; height: number } | null;
    bounds: readonly [Point, Point];
    openings: Opening[];
    furniture: Furniture[];
    structure: Structure | null;
    things: Thing[];
    day: Day;
    exposure: Exposure;
    problems?: string[];
}

export interface Source {
    name: string;
    kind: "lamp" | "sun" | "sky";
    /** What it gives now of what it could, band by band. */
    now: Bands;
}

export interface Reading {
    name: string;
    mark: string;
    /** A spot measures cd/m2, the others lux. */
    kind: "flat" | "dome" | "spot";
    /** Whether anything is known of it yet. */
    traced: boolean;
    /** Band by band and source by source, at full level and without gel. */
    layers: readonly Bands[];
    /** Relative standard error, by source; null where nothing is known yet. */
    errors: readonly (number | null)[];
    /** Relative standard error of the sum in force. */
    error: number | null;
}

export interface Separation {
    name: string;
    stops: number;
    error_stops?: number;
}

export interface SheetEvent {
    revision: number;
    setup: string;
    option: string;
    stage: number;
    seconds: number;
    done?: boolean;
    sources: Source[];
    readings: Reading[];
    /** What a spot meter beside the lens shows of the people in the picture. */
    spots?: Reading[];
    separations?: Separation[];
    remarks?: string[];
}

export interface PictureEvent {
    id: number;
    revision: number;
    setup: string;
    option: string;
    view: "frame" | "map" | "plan_map";
    width: number;
    height: number;
    sources: string[];
    /** What is packed times this is cd/m2 a band, or lux. */
    scale: number;
    stage: number;
    noise: number | null;
    seconds: number;
}

/** The false-colour scale: where its bands meet (stops, all of them halves), and where targets want a key. */
export interface Scale {
    edges: readonly number[];
    keys: readonly { mark: string; over_grey: number; lux: number }[];
    bands: readonly (readonly [number, number, number])[];
}

/** What shows light as the program's own pictures show it, for the camera of one set-up. */
export interface Colour {
    bands: number;
    /** One unit of a band in balanced linear red, green, blue. */
    rgb: readonly (readonly [number, number, number])[];
    /** One unit of a band in lm/W: what turns bands into lux and cd/m2. */
    luminance: Bands;
    grey: number;
    curve: { headroom: number; footroom: number; grey: number; upper_power: number; lower_power: number };
    /** Width over height of what is delivered, where that is not all of the frame. */
    delivery?: number | null;
    lamps: Record<string, LampColour>;
    scale?: Scale;
}

export interface LampColour {
    kelvin: number;
    /** What one gel of that name passes before this lamp. */
    gels: Record<string, Bands>;
    /** Only where colour hangs on the level, from full downwards. */
    dimmed?: readonly { level: number; bands: Bands }[];
}

export interface PointReading {
    where?: string;
    at?: Point;
    lux?: number;
    error?: number;
    sources?: { name: string; lux: number }[];
    /** The T-stop that those lux ask for. */
    t_stop?: number;
    /** In the frame: the spot there, in stops, and its relative error. */
    over_grey?: number;
    luminance_error?: number;
    /** On the plan: a dome towards the lens. */
    dome?: number;
    dome_error?: number;
}

export type Edit =
    | { kind: string; name: string; key: string; value: unknown }
    | { do: "add"; kind: string; name: string; values: Record<string, unknown>; where?: "file" }
    | { do: "remove"; kind: string; name: string };
