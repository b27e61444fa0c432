// Lengths as people type them, in metres.

const number = String.raw`(\d+(?:[.,]\d+)?)`;
const shares: Record<string, number> = { "": 1, m: 1, cm: 0.01, mm: 0.001, ft: 0.3048, in: 0.0254 };

/** "4.2", "4,2 m", "90 cm", "13ft 9in", "6' 2\""; null when it is no length. */
export function metres_from(text: string): number | null {
    const words = text.trim().toLowerCase().replace("−", "-").replace(/[′’']/g, "ft").replace(/[″”"]/g, "in");
    const sign = words.startsWith("-") ? -1 : 1;
    const plain = words.replace(/^[+-]\s*/, "");
    const value = (digits: string) => Number(digits.replace(",", "."));
    const one = new RegExp(`^${number}\\s*(m|cm|mm|ft|in)?$`).exec(plain);
    if (one) return sign * value(one[1]!) * shares[one[2] ?? ""]!;
    const feet = new RegExp(`^${number}\\s*ft\\s*${number}\\s*(?:in)?$`).exec(plain);
    if (feet) return sign * (value(feet[1]!) * shares["ft"]! + value(feet[2]!) * shares["in"]!);
    return null;
}
