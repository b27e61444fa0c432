// Numbers as they are read aloud: a real minus, as many digits as mean something.

const minus = "−";

export function signed(value: number, digits = 1): string {
    const rounded = Math.abs(value).toFixed(digits);
    if (Number(rounded) === 0) return rounded;
    return (value < 0 ? minus : "+") + rounded;
}

/** As `signed`, without a plus: for what can only lie below. */
export function below(value: number, digits = 1): string {
    const rounded = Math.abs(value).toFixed(digits);
    return value < 0 && Number(rounded) !== 0 ? minus + rounded : rounded;
}

export function lux_text(lux: number): string {
    if (!(lux > 0)) return "0";
    if (lux < 10) return lux.toPrecision(2);
    if (lux < 1000) return lux.toFixed(0);
    return Math.round(Number(lux.toPrecision(3)))
        .toLocaleString("en-GB")
        .replace(/,/g, "\u202f");
}

export function t_stop_text(stop: number): string {
    if (!(stop > 0)) return "–";
    return stop < 9.95 ? `T${stop.toFixed(1)}` : `T${stop.toFixed(0)}`;
}

export function ratio_text(stops: number): string {
    const n = 2 ** Math.abs(stops);
    return `${n < 9.95 ? n.toFixed(1) : n.toFixed(0)}:1`;
}

/** A relative error in stops. */
export function error_in_stops(relative: number): number {
    return relative / Math.LN2;
}

export function percent_text(share: number): string {
    const percent = 100 * share;
    return `${percent < 9.95 ? percent.toFixed(1) : percent.toFixed(0)} %`;
}

export function metres(value: number): string {
    return value.toFixed(2).replace("-", minus);
}

/** Hours 0..24 as a clock shows them. */
export function clock(hours: number): string {
    const minutes = Math.round(hours * 60) % 1440;
    return `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}

export function hours(text: string): number {
    const [h, m] = text.split(":").map(Number);
    return (h ?? 12) + (m ?? 0) / 60;
}
