// What a hand has done and the program has not yet answered with, by the name of the thing: shown until then.
import { effect, signal } from "@preact/signals";
import { edit } from "./edits.ts";
import type { Edit } from "./messages.ts";

interface OnItsWay {
    /** The revision that has it in the file; null while the hand is on it or the edit is on its way. */
    revision: number | null;
}

export class Held<T> {
    readonly all = signal<Record<string, T & OnItsWay>>({});

    /** `reached`: the revision that the page shows of everything that this touches. */
    constructor(reached: () => number) {
        effect(() => {
            const now = reached();
            const left = Object.entries(this.all.value).filter(([, one]) => one.revision === null || one.revision > now);
            if (left.length !== Object.keys(this.all.peek()).length) this.all.value = Object.fromEntries(left);
        });
    }

    hold(name: string, what: T): T & OnItsWay {
        const one = { ...what, revision: null };
        this.all.value = { ...this.all.peek(), [name]: one };
        return one;
    }

    async write(name: string, one: T & OnItsWay, edits: Edit[], token: string): Promise<void> {
        const revision = await edit(edits, token);
        if (this.all.peek()[name] !== one) return;
        const left = { ...this.all.peek() };
        // Refused: what stands in the file counts again.
        if (revision === null) delete left[name];
        else left[name] = { ...one, revision };
        this.all.value = left;
    }
}
