// Draws the app icon: a core sample standing in wet concrete. `node draw.mjs` writes core.svg beside itself;
// `npm --prefix ui run icons` then makes every size from it. Seeded, so the same picture comes out each time.
import { writeFileSync } from "node:fs";

let seed = 20250304;
const random = () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 2 ** 32;
};

/** Rounded many-sided stones inside a box, none touching the core's wall. */
const stones = (count, [x, y, w, h], size, fills) =>
  Array.from({ length: count }, (_, i) => {
    const r = size * (0.55 + random() * 0.75);
    const cx = x + r + random() * (w - 2 * r);
    const cy = y + r + random() * (h - 2 * r);
    const corners = 6 + Math.floor(random() * 3);
    const points = Array.from({ length: corners }, (_, k) => {
      const angle = (k / corners) * 2 * Math.PI + random() * 0.5;
      const reach = r * (0.75 + random() * 0.35);
      return `${(cx + Math.cos(angle) * reach).toFixed(1)},${(cy + Math.sin(angle) * reach).toFixed(1)}`;
    });
    return `<polygon points="${points.join(" ")}" fill="${fills[i % fills.length]}"/>`;
  }).join("");

/** A ragged upper edge from x0 to x1 around y, closed down to the layer's foot. */
const ragged = (x0, x1, y, foot, reach, fill) => {
  const steps = 15;
  const edge = Array.from({ length: steps + 1 }, (_, i) =>
    `${(x0 + ((x1 - x0) * i) / steps).toFixed(1)},${(y + (random() - 0.5) * reach).toFixed(1)}`);
  return `<polygon points="${x0},${foot} ${edge.join(" ")} ${x1},${foot}" fill="${fill}"/>`;
};

const [left, right] = [352, 672];
const parts = [
  `<rect x="${left}" y="120" width="320" height="784" fill="#e9e3d6"/>`,
  `<rect x="${left}" y="560" width="320" height="344" fill="#6b675f"/>`,
  stones(26, [left, 566, 320, 334], 46, ["#cfc6b4", "#8f4a2c", "#a9a292", "#3b3a37"]),
  ragged(left, right, 556, 606, 46, "#8d877b"),
  stones(60, [left, 440, 320, 108], 9, ["#8d877b", "#5a564e"]),
  ragged(left, right, 432, 446, 26, "#b9b1a1"),
  `<rect x="${left}" y="250" width="320" height="78" fill="#7fa8a0"/>`,
  `<rect x="${left}" y="262" width="320" height="10" fill="#c6dcd6"/>`,
  `<rect x="${left}" y="168" width="320" height="58" fill="#7fa8a0"/>`,
  `<rect x="${left}" y="178" width="320" height="10" fill="#c6dcd6"/>`,
];

writeFileSync(
  new URL("core.svg", import.meta.url),
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1024 1024">
<defs><clipPath id="core"><rect x="${left}" y="120" width="320" height="784" rx="34"/></clipPath></defs>
<rect width="1024" height="1024" rx="200" fill="#2b2a27"/>
<rect x="180" y="545" width="664" height="14" fill="#c96f3f"/>
<rect x="320" y="88" width="384" height="848" rx="62" fill="#2b2a27"/>
<g clip-path="url(#core)">
${parts.join("\n")}
<rect x="${left}" y="120" width="44" height="784" fill="#000" opacity=".16"/>
<rect x="${right - 70}" y="120" width="26" height="784" fill="#fff" opacity=".14"/>
</g>
</svg>
`,
);
