// What the program tells as it happens. A wish (set-up, option, view) is one connection; another wish, another one.
import { batch, signal } from "@preact/signals";
import { adopt, connected, read_state, report, troubled } from "./document.ts";
import type { DocumentState, PictureEvent, SheetEvent } from "./messages.ts";
import { halves, query } from "./requests.ts";

export interface Wish {
    setup: string;
    option: string;
    view: "frame" | "map" | "plan_map" | "none";
    width: number;
    height?: number;
}

export interface HeldPicture {
    is: PictureEvent;
    data: Uint16Array;
}

/** The program makes nothing of it; but of two equal addresses a browser keeps one waiting till the other has ended. */
const page_id = Array.from(crypto.getRandomValues(new Uint32Array(2)), (n) => n.toString(36)).join("");

export class Stream {
    readonly sheet = signal<SheetEvent | null>(null);
    readonly picture = signal<HeldPicture | null>(null);
    private source: EventSource | null = null;
    private wish = "";
    private fetching: AbortController | null = null;
    private waiting: PictureEvent | null = null;

    /** `tells_state`: whether this stream is the one that the document's state is taken from. */
    constructor(
        private readonly name: string,
        private readonly tells_state = false,
    ) {}

    ask(wish: Wish): void {
        const words = query({ client: `${page_id}-${this.name}`, ...wish });
        if (words !== this.wish) this.close();
        this.wish = words;
        if (!this.source) this.open();
    }

    /** Nothing more is told, and what was told stays: for a page that nobody looks at. */
    pause(): void {
        this.source?.close();
        this.source = null;
    }

    close(): void {
        this.pause();
        this.wish = "";
        this.fetching?.abort();
        this.fetching = null;
        this.waiting = null;
        batch(() => {
            this.sheet.value = null;
            this.picture.value = null;
        });
    }

    retry(): void {
        this.pause();
        this.open();
        read_state().catch(report);
    }

    private open(): void {
        const source = new EventSource(`/api/events?${this.wish}`);
        this.source = source;
        const hear = <T>(kind: string, act: (data: T) => void) =>
            source.addEventListener(kind, (event) => act(JSON.parse((event as MessageEvent<string>).data) as T));
        hear<SheetEvent>("sheet", (sheet) => (this.sheet.value = sheet));
        hear<PictureEvent>("picture", (picture) => {
            this.waiting = picture;
            void this.fetch_pictures();
        });
        if (!this.tells_state) return;
        hear<DocumentState>("state", adopt);
        hear<{ line: string }>("trouble", troubled);
        source.onopen = () => (connected.value = true);
        source.onerror = () => {
            connected.value = false;
            // A browser gives up for good when it was refused; then it is tried again here, slowly.
            if (source.readyState === EventSource.CLOSED)
                setTimeout(() => {
                    if (this.source === source) this.retry();
                }, 3000);
        };
    }

    /** One picture at a time; of those that come meanwhile only the newest is fetched. */
    private async fetch_pictures(): Promise<void> {
        if (this.fetching) return;
        const control = new AbortController();
        this.fetching = control;
        try {
            while (this.waiting && !control.signal.aborted) {
                const is = this.waiting;
                this.waiting = null;
                const data = await halves(`/api/picture/${is.id}`, control.signal);
                if (data && !control.signal.aborted) this.picture.value = { is, data };
            }
        } catch (trouble) {
            if (!control.signal.aborted) report(trouble);
        } finally {
            if (this.fetching === control) this.fetching = null;
        }
    }
}
