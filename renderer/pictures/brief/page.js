"use strict";
// Frames are mixed again from the light of each source: light adds up, so a fader is a factor and nothing else.
(() => {
    const minus = "\u2212";
    const stops = (s) => (Math.abs(s) < 0.05 ? "0" : (s < 0 ? minus : "+") + Math.abs(s).toFixed(1)) + " stops";
    const light = (v) => (v >= 9.95 ? v.toFixed(0) : v >= 0.995 ? v.toFixed(1) : v.toFixed(2));
    const encode = new Uint8ClampedArray(4097);
    for (let i = 0; i <= 4096; ++i) {
        const v = i / 4096;
        encode[i] = Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * Math.pow(v, 1 / 2.4) - 0.055));
    }
    const bent = (reach, power) => (reach > 0 ? Math.pow(1 + Math.pow(reach, power), -1 / power) : 1);

    function decode(option) {
        return Promise.all(option.layers.map((layer) => new Promise((done) => {
            const image = new Image();
            image.onload = () => {
                const canvas = document.createElement("canvas");
                canvas.width = option.width;
                canvas.height = option.height;
                const context = canvas.getContext("2d", {willReadFrequently: true});
                context.drawImage(image, 0, 0);
                done({source: layer.source, scale: layer.scale,
                      bytes: context.getImageData(0, 0, option.width, option.height).data});
            };
            image.src = layer.png;
        })));
    }

    function mix(option, layers, factor, exposure, data) {
        const pixels = option.width * option.height;
        const sum = new Float32Array(3 * pixels);
        for (const layer of layers) {
            const k = factor(layer.source) * layer.scale * exposure;
            if (!(k > 0)) continue;
            const cube = new Float32Array(256);
            for (let b = 0; b < 256; ++b) cube[b] = k * Math.pow(b / 255, 3);
            for (let p = 0, q = 0; p < 3 * pixels; p += 3, q += 4) {
                sum[p] += cube[layer.bytes[q]];
                sum[p + 1] += cube[layer.bytes[q + 1]];
                sum[p + 2] += cube[layer.bytes[q + 2]];
            }
        }
        const range = data.headroom + data.footroom, steps = data.curve.length - 1;
        const out = new ImageData(option.width, option.height);
        for (let p = 0, q = 0; q < 4 * pixels; p += 3, q += 4) {
            out.data[q + 3] = 255;
            const r = sum[p], g = sum[p + 1], b = sum[p + 2];
            const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
            if (!(y > 0)) continue;
            const at = (Math.log2(y / 0.18) + data.footroom) / range * steps;
            if (at <= 0) continue;
            const i = Math.min(Math.floor(at), steps - 1);
            const shown = at >= steps ? 1 : data.curve[i] + (at - i) * (data.curve[i + 1] - data.curve[i]);
            if (shown >= 1) {
                out.data[q] = out.data[q + 1] = out.data[q + 2] = 255;
                continue;
            }
            const k = shown / y;
            const most = Math.max(r, g, b) * k, least = Math.min(r, g, b) * k;
            const kept = bent((most - shown) / (1 - shown), 3) * bent((shown - least) / shown, 8);
            const channel = (v) => encode[Math.round(4096 * Math.min(1, Math.max(0, shown + kept * (v * k - shown))))];
            out.data[q] = channel(r);
            out.data[q + 1] = channel(g);
            out.data[q + 2] = channel(b);
        }
        return out;
    }

    // Lux, stop and cheek to cheek of one option under the faders.
    function write(table, option, factor, data) {
        table.textContent = "";
        const row = (name, value) => {
            const tr = table.insertRow();
            tr.insertCell().textContent = name;
            const cell = tr.insertCell();
            cell.className = "number";
            cell.textContent = value;
        };
        const cheeks = {};
        for (const reading of option.readings) {
            let lux = 0;
            for (const [source, v] of Object.entries(reading.by_source)) lux += (v || 0) * factor(source);
            if (reading.mark && reading.name.endsWith(" cheek")) (cheeks[reading.mark] ||= []).push(lux);
            row(reading.name, lux > 0 ? "T" + Math.sqrt(lux * reading.t2_a_lux).toFixed(1) + "  " +
                light(lux / data.lux_a_unit) + " " + data.units : "no light");
        }
        for (const [mark, both] of Object.entries(cheeks)) {
            if (both.length !== 2 || !(Math.min(...both) > 0)) continue;
            const ratio = Math.max(...both) / Math.min(...both);
            row(mark + " cheeks", ratio.toFixed(1) + ":1  " + Math.log2(ratio).toFixed(1) + " stops");
        }
    }

    function fader(desk, id, name, least, most, text, changed) {
        const line = document.createElement("div");
        line.className = "fader";
        const label = document.createElement("label");
        label.htmlFor = id;
        label.textContent = name;
        const slide = document.createElement("input");
        Object.assign(slide, {type: "range", id, min: least, max: most, step: 0.1, value: 0});
        const out = document.createElement("output");
        out.htmlFor = id;
        const show = () => {
            out.textContent = text(Number(slide.value));
            slide.setAttribute("aria-valuetext", out.textContent);
        };
        slide.addEventListener("input", () => { show(); changed(); });
        show();
        line.append(label, slide, out);
        desk.append(line);
        return {value: () => Number(slide.value), reset: () => { slide.value = 0; show(); }};
    }

    async function begin(box) {
        const data = JSON.parse(document.getElementById(box.dataset.for).textContent);
        const figures = [...box.querySelectorAll("figure")];
        const mixed = data.options.every((o) => o.layers.length > 0);
        const layers = mixed ? await Promise.all(data.options.map(decode)) : [];
        const desk = box.querySelector(".desk");
        const off = -8;  // stops: the lower end of a fader is off
        const faders = new Map();
        let waiting = false;
        const draw = () => {
            waiting = false;
            const factor = (source) => {
                const f = faders.get(source);
                return !f ? 1 : f.value() <= off ? 0 : Math.pow(2, f.value());
            };
            data.options.forEach((option, i) => {
                write(figures[i].querySelector(".live"), option, factor, data);
                if (!mixed) return;
                const canvas = figures[i].querySelector("canvas");
                canvas.width = option.width;
                canvas.height = option.height;
                canvas.getContext("2d").putImageData(mix(option, layers[i], factor, Math.pow(2, iris.value()), data), 0, 0);
                canvas.setAttribute("role", "img");
                canvas.setAttribute("aria-label", "Frame, option " + option.name + ", under the faders");
                canvas.hidden = false;
                figures[i].querySelector("img").hidden = true;
            });
        };
        const changed = () => {
            if (!waiting) requestAnimationFrame(draw);
            waiting = true;
        };
        for (const [i, source] of data.sources.entries())
            faders.set(source.name, fader(desk, box.dataset.for + "-" + i, source.name, off, Math.max(source.most, 0),
                (v) => (v <= off ? "off" : Math.abs(v) < 0.05 ? "as planned" : stops(v)), changed));
        const iris = fader(desk, box.dataset.for + "-iris", "iris of the camera", -4, 4,
            (v) => "T" + (data.t_stop * Math.pow(2, -v / 2)).toFixed(1), changed);
        const back = document.createElement("button");
        back.type = "button";
        back.textContent = "As planned";
        back.addEventListener("click", () => {
            for (const f of faders.values()) f.reset();
            iris.reset();
            draw();
        });
        desk.append(back);
        desk.hidden = false;
        draw();
    }

    // Layers are unpacked when their set-up comes into view, or is printed.
    const boxes = [...document.querySelectorAll(".faders")];
    const start = (box) => {
        if (box.dataset.begun) return;
        box.dataset.begun = "yes";
        begin(box);
    };
    if (!("IntersectionObserver" in window)) {
        boxes.forEach(start);
    } else {
        const seen = new IntersectionObserver((entries) => {
            for (const entry of entries) if (entry.isIntersecting) start(entry.target);
        }, {rootMargin: "400px"});
        boxes.forEach((box) => seen.observe(box));
    }
})();
