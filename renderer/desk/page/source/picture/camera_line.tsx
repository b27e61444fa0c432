// The exposure of the set-up's camera, under its picture and to be changed there.
import { plan, report } from "../program/document.ts";
import { edit, new_token } from "../program/edits.ts";
import { TextField } from "../parts/field.tsx";

export function CameraLine({ disabled }: { disabled: boolean }) {
    const exposure = plan.value?.exposure;
    if (!exposure?.camera) return null;
    const name = exposure.camera;
    const set = (key: string) => (text: string) => {
        const value = Number(text.replace(",", ".").replace(/^T/i, ""));
        if (!Number.isFinite(value)) return report(new Error(`“${text}” is not a number`));
        void edit([{ kind: "camera", name, key, value }], new_token());
    };
    const field = (label: string, key: string, value: number, width: number) => (
        <TextField label={label} value={String(value)} width={width} disabled={disabled} commit={set(key)} />
    );
    return (
        <div class="camera-line" role="group" aria-label={`Camera ${name}`}>
            <span class="camera-name">{name}</span>
            {field("T", "t_stop", exposure.t_stop, 4)}
            {field("ISO", "iso", exposure.iso, 5)}
            {field("ND", "nd", exposure.nd, 4)}
            {exposure.white_balance !== null && field("K", "white_balance", exposure.white_balance, 5)}
            <span class="quiet">
                {exposure.shutter}° at {exposure.fps} fps
            </span>
        </div>
    );
}
