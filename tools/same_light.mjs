#!/usr/bin/env node
// Two builds of the program read the same set-ups, each by random numbers of its own: their readings must agree within
// their errors. Exit status 1 where they do not.
//   tools/same_light.mjs build/rushlight build-clang/rushlight [SET-UP-FILE] [RELATIVE ERROR]
import { spawnSync } from "node:child_process";

const [first, second, file = "scenes/kitchen-night.toml", error = "1%"] = process.argv.slice(2);
if (!second) {
    console.error("same_light: expected two programs");
    process.exit(2);
}

function readings(program, seed) {
    const words = ["read", file, "--all", "--json", "--fresh", "--error", error, "--seed", seed];
    const run = spawnSync(program, words, { encoding: "utf8", maxBuffer: 1 << 28 });
    if (run.status !== 0) throw new Error(`${program}: ${run.stderr || run.error}`);
    return JSON.parse(run.stdout).flatMap((sheet) =>
        sheet.readings.map((r) => ({
            name: `${sheet.setup}, ${sheet.option}: ${r.name}`,
            value: r.lux,
            error: r.error_lux,
        })),
    );
}

const a = readings(first, "1");
const b = readings(second, "2");
let chi2 = 0;
let worst = { score: 0 };
let coarsest = 0;
for (const [i, one] of a.entries()) {
    if (one.name !== b[i]?.name) throw new Error(`${one.name} against ${b[i]?.name}`);
    const error = Math.hypot(one.error, b[i].error);
    if (!(error > 0)) {
        if (one.value !== b[i].value) throw new Error(`${one.name}: ${one.value} against ${b[i].value}, without any error`);
        continue;
    }
    const score = (one.value - b[i].value) / error;
    chi2 += score * score;
    coarsest = Math.max(coarsest, error / Math.max(one.value, 1e-9));
    if (Math.abs(score) > Math.abs(worst.score)) worst = { score, name: one.name, values: [one.value, b[i].value] };
}
// Options of a set-up share their walks, so that readings go together: a large mean is no wonder, one far out is.
console.log(
    `${a.length} readings, mean square difference ${(chi2 / a.length).toFixed(2)} of what errors say; ` +
        `worst ${worst.score.toFixed(2)} standard errors (${worst.name}: ${worst.values}); ` +
        `coarsest error of a difference ${(100 * coarsest).toFixed(2)} %`,
);
process.exit(Math.abs(worst.score) < 4.5 && chi2 / a.length < 2 ? 0 : 1);
