// Half floats (IEEE 754 binary16) as numbers: for the few pixels that are also printed.

export function half(bits: number): number {
    const sign = bits & 0x8000 ? -1 : 1;
    const exponent = (bits >> 10) & 31;
    const fraction = bits & 1023;
    if (exponent === 31) return fraction ? NaN : sign * Infinity;
    if (exponent === 0) return sign * fraction * 2 ** -24;
    return sign * (1024 + fraction) * 2 ** (exponent - 25);
}
