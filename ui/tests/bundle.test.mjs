// What the app carries of the page: small, whole, and nothing of the tests. `npm run build` comes first.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";
import { gzipSync } from "node:zlib";

const dist = new URL("../dist/", import.meta.url);
const files = readdirSync(dist, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => new URL(`${entry.parentPath ?? entry.path}/${entry.name}`, "file:"));

test("the bundle stays under 400 kB compressed", () => {
  const sizes = files.map((file) => gzipSync(readFileSync(file)).length);
  const sum = sizes.reduce((a, b) => a + b, 0);
  assert.ok(sum > 50_000, `only ${sum} bytes: was it built?`);
  assert.ok(sum < 400_000, `${sum} bytes`);
});

test("the bundle holds no way to a test's bridge, and names no other place", () => {
  for (const file of files.filter((f) => /\.(js|html|css)$/.test(f.pathname))) {
    const text = readFileSync(file, "utf8");
    assert.ok(!text.includes("/ipc/"), `${file.pathname} holds the bridge`);
    const addresses = text.match(/https?:\/\/[\w.-]+/g) ?? [];
    // Names of formats, and where Svelte's warnings are explained; neither is ever asked for.
    const strange = addresses.filter((a) => !/^https?:\/\/(www\.w3\.org|svelte\.dev)$/.test(a));
    assert.deepEqual(strange, [], file.pathname);
  }
});
