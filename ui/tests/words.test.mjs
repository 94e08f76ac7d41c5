// Every word the screens ask for is declared in Rust, and none is declared that no screen asks for.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

const source = new URL("../src/", import.meta.url);
const rust = new URL("../../src-tauri/crates/api/src/", import.meta.url);
const table = ["words.rs", "words/set_up.rs"].map((file) => readFileSync(new URL(file, rust), "utf8")).join("\n");
const declared = new Set([...table.matchAll(/\(\s*"([a-z_0-9.]+)",\s*text\(/g)].map((m) => m[1]));

const files = readdirSync(source, { recursive: true }).filter((f) => /\.(svelte|ts)$/.test(f) && !f.startsWith("generated"));
const code = files
  .filter((f) => f !== "lib/state/words.svelte.ts")
  .map((file) => readFileSync(new URL(file, source), "utf8")).join("\n");

const plain = [...code.matchAll(/\bt\("([^"]+)"/g)].map((m) => m[1]);
const counted = [...code.matchAll(/\btn\("([^"]+)"/g)].flatMap((m) => [`${m[1]}.one`, `${m[1]}.other`]);
/** Keys put together on the spot, `t(`day.${state}`)`: what stands around the hole has to match. */
const built = [...code.matchAll(/\bt\(`([^`]+)`/g)].map((m) => new RegExp(`^${m[1].replaceAll(".", "\\.").replace(/\$\{[^}]+\}/g, "[a-z_]+")}$`));

test("the table was read", () => {
  assert.ok(declared.size > 100);
  assert.ok(plain.length > 60);
});

test("no screen asks for a word that is not declared", () => {
  assert.deepEqual([...plain, ...counted].filter((key) => !declared.has(key)), []);
  for (const pattern of built) assert.ok([...declared].some((key) => pattern.test(key)), String(pattern));
});

test("no word is declared that no screen asks for", () => {
  const used = new Set([...plain, ...counted]);
  assert.deepEqual([...declared].filter((key) => !used.has(key) && !built.some((pattern) => pattern.test(key))), []);
});

test("no screen holds a sentence of its own", () => {
  for (const file of files.filter((f) => f.endsWith(".svelte"))) {
    const markup = readFileSync(new URL(file, source), "utf8")
      .replace(/<(script|style)[\s\S]*?<\/\1>/g, "")
      .replace(/\{[^{}]*(?:\{[^{}]*(?:\{[^{}]*\}[^{}]*)*\}[^{}]*)*\}/g, "");
    const text = markup.replace(/<[^>]+>/g, " ").match(/\p{L}{3,}/gu) ?? [];
    assert.deepEqual(text.filter((word) => word !== "Trowelogue"), [], file);
  }
});
