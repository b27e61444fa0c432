// One request to the program and its answer, or the one clear line that says why not.

export class Refused extends Error {
    constructor(
        readonly status: number,
        message: string,
        readonly answer: Record<string, unknown> = {},
    ) {
        super(message);
    }
}

/** No answer at all: the program has ended, or the network is gone. */
export class Unreachable extends Error {}

async function answered(path: string, how: RequestInit): Promise<Response> {
    let response: Response;
    try {
        response = await fetch(path, { credentials: "same-origin", ...how });
    } catch {
        throw new Unreachable("the program does not answer");
    }
    if (response.ok) return response;
    let answer: Record<string, unknown> = {};
    try {
        answer = (await response.json()) as Record<string, unknown>;
    } catch {
        // A refusal without words still has its number.
    }
    const message =
        typeof answer["message"] === "string" ? answer["message"] : `the program answered ${response.status}`;
    throw new Refused(response.status, message, answer);
}

export function query(words: Record<string, string | number>): string {
    const all = new URLSearchParams();
    for (const [key, value] of Object.entries(words)) all.set(key, String(value));
    return all.toString();
}

export async function ask<T>(path: string): Promise<T> {
    return (await (await answered(path, {})).json()) as T;
}

export async function tell<T>(path: string, body: unknown): Promise<T> {
    const response = await answered(path, {
        method: "POST",
        keepalive: true, // what was done just before the page is closed still gets there
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify(body),
    });
    return (await response.json()) as T;
}

/** Raw half floats. A stage that the program has already replaced is gone: then nothing. */
export async function halves(path: string, signal: AbortSignal): Promise<Uint16Array | null> {
    try {
        const buffer = await (await answered(path, { signal })).arrayBuffer();
        return new Uint16Array(buffer, 0, Math.floor(buffer.byteLength / 2));
    } catch (trouble) {
        if (signal.aborted || (trouble instanceof Refused && trouble.status === 404)) return null;
        throw trouble;
    }
}
