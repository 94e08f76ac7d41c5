// Every text pair of the token file reaches 7:1 (WCAG 2.2, success criterion 1.4.6), control edges and the
// focus ring 3:1 (1.4.11). The formula is that of WCAG 2.2, "relative luminance" and "contrast ratio".
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

const source = new URL("../src/", import.meta.url);
const css = readFileSync(new URL("tokens.css", source), "utf8");

const tokens = (selector) => {
  const start = css.indexOf(`${selector} {`);
  assert.ok(start >= 0, `no block ${selector}`);
  const block = css.slice(start, css.indexOf("}", start));
  return new Map([...block.matchAll(/(--[\w-]+):\s*(#[0-9a-f]{6});/g)].map((m) => [m[1], m[2]]));
};
const themes = { light: tokens(":root"), dark: tokens(':root[data-theme="dark"]') };

const luminance = (hex) => {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a, b) => {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
};

test("the formula gives the published extremes", () => {
  assert.equal(contrast("#000000", "#ffffff"), 21);
  assert.equal(contrast("#777777", "#777777"), 1);
});

for (const [theme, map] of Object.entries(themes)) {
  test(`text on its ground reaches 7:1, ${theme}`, () => {
    const pairs = [...map.keys()].filter((k) => k.endsWith("-on"));
    assert.ok(pairs.length >= 13);
    for (const on of pairs) {
      const ground = on.replace(/(-soft)?-on$/, "");
      const ratio = contrast(map.get(on), map.get(ground));
      assert.ok(ratio >= 7, `${on} on ${ground}: ${ratio.toFixed(2)}`);
    }
  });

  test(`coloured text also reads on ground and slab, ${theme}`, () => {
    for (const name of ["trouble", "running", "ready", "caution"])
      for (const ground of ["--ground", "--slab"]) {
        const ratio = contrast(map.get(`--${name}-on`), map.get(ground));
        assert.ok(ratio >= 7, `${name} on ${ground}: ${ratio.toFixed(2)}`);
      }
  });

  test(`edges and focus reach 3:1, ${theme}`, () => {
    for (const line of ["--edge", "--focus"])
      for (const ground of ["--ground", "--slab", "--field"]) {
        const ratio = contrast(map.get(line), map.get(ground));
        assert.ok(ratio >= 3, `${line} on ${ground}: ${ratio.toFixed(2)}`);
      }
  });
}

test("both themes name the same tokens", () => {
  assert.deepEqual([...themes.light.keys()], [...themes.dark.keys()]);
});

test("no other file names a colour", () => {
  const files = readdirSync(source, { recursive: true }).filter((f) => /\.(css|svelte|ts)$/.test(f) && f !== "tokens.css");
  for (const file of files) {
    const text = readFileSync(new URL(file, source), "utf8");
    const found = text.match(/#[0-9a-fA-F]{3,8}\b(?=[;,)\s"'])|\b(?:rgb|hsl|oklch|lab)a?\(/g) ?? [];
    assert.deepEqual(found, [], `${file} names ${found.join(", ")}`);
  }
});
