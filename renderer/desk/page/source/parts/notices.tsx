// What has to be said: lost connection, a file on the disk that cannot be read, two versions of it, a refused edit.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { connected, file, locked, notice, read_only } from "../program/document.ts";
import { overtaken } from "../program/edits.ts";
import { live } from "../light/model.ts";
import { signal } from "@preact/signals";

const conflict_read = signal("");

/** The program's line as a sentence of its own. */
function sentence(line: string): string {
    const text = line.charAt(0).toUpperCase() + line.slice(1);
    return /[.!?]$/.test(text) ? text : `${text}.`;
}

export function Notices() {
    const trouble = file.value?.trouble?.line;
    return (
        <div class="notices">
            {!connected.value && (
                <p class="notice" role="alert">
                    <b>No connection.</b> The rushlight program does not answer; what you see is from before.{" "}
                    <button type="button" onClick={() => live.retry()}>
                        try again
                    </button>
                </p>
            )}
            {locked.value && (
                <p class="notice" role="alert">
                    <b>This page is not signed in.</b> Press Enter where rushlight runs: it prints a fresh link.
                </p>
            )}
            {trouble && (
                <p class="notice" role="alert">
                    <b>The file on the disk cannot be read</b>; the last sound version is shown. <code>{trouble}</code>
                </p>
            )}
            {notice.value && (
                <p class="notice" role="alert">
                    <b>Couldn't do that:</b> <code>{notice.value}</code>{" "}
                    <button type="button" onClick={() => (notice.value = "")}>
                        OK
                    </button>
                </p>
            )}
            {read_only.value && file.value?.file && (
                <p class="notice calm">View only: nothing can be changed from here.</p>
            )}
        </div>
    );
}

function Dialog(props: { title: string; children: ComponentChildren }) {
    const dialog = useRef<HTMLDialogElement>(null);
    useEffect(() => {
        if (!dialog.current?.open) dialog.current?.showModal();
    }, []);
    return (
        <dialog ref={dialog} aria-labelledby="dialog-title" onCancel={(event) => event.preventDefault()}>
            <h2 id="dialog-title">{props.title}</h2>
            {props.children}
        </dialog>
    );
}

export function ConflictDialog() {
    const conflict = file.value?.conflict;
    if (overtaken.value) {
        const { message, again } = overtaken.value;
        return (
            <Dialog title="Somebody else changed the same thing">
                <p>{message}</p>
                <p>Behind this is what the file says now. Nothing was overwritten.</p>
                <div class="dialog-buttons">
                    <button type="button" onClick={() => (overtaken.value = null)}>
                        keep what the file says
                    </button>
                    <button type="button" onClick={again}>
                        write mine
                    </button>
                </div>
            </Dialog>
        );
    }
    if (!conflict || read_only.value || conflict_read.value === conflict.message) return null;
    const kept = conflict.ours?.split("/").pop();
    return (
        <Dialog title="The file was changed by somebody else">
            <p>{sentence(conflict.message)}</p>
            {kept && !conflict.message.includes(kept) && (
                <p>
                    Yours is kept in <code>{kept}</code>.
                </p>
            )}
            {conflict.both_kept && <p>Both versions are kept; nothing was written over.</p>}
            <div class="dialog-buttons">
                <button type="button" onClick={() => (conflict_read.value = conflict.message)}>
                    OK
                </button>
            </div>
        </Dialog>
    );
}
