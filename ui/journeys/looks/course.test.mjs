// One piece from demould to its third coat, and a piece of an old job found by the code on its label, in the real web
// view, in every look of the matrix. Nothing the page asks for leaves it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { App } from "../lib/app.mjs";
import { demo, lines, trowelogue } from "../lib/demo.mjs";
import { dress, LOOKS, nameOf, worn } from "../lib/matrix.mjs";
import { SIZES } from "../lib/places.mjs";
import { beginStep, confirmAll, fill, findPiece, FIRST, today, write } from "../lib/steps.mjs";

const CODE = "N-01";
const pass = (grit) => ["grit_pass", { grit, scale: "pad", bond: "resin", wet: "yes", result: "cut_out" }];
const coat = (number) => ["seal_coat", { product: FIRST, lot: "G-77", coat: number, air_c: 20, rh_pct: 50, surface_c: 20 }];
const COURSE = [
  ["demould", { face: "clean" }], pass(100), ["fill", { material: "cement_fill", lot: "F-12", method: "slurry" }], pass(200), pass(400),
  ["rinse", { standing_water_removed: "yes" }], coat(1), coat(2), coat(3),
];

/** A piece cast four weeks ago, recorded from the command line. */
const cast = (home, shop) => {
  const days = (n) => new Date(Date.now() - n * 86_400_000).toISOString().replace(/\.\d+Z$/, "Z");
  const entries = [
    { kind: "piece", done: days(29), body: { code: CODE, name: "Wash stand", mix: "Face mix, pale", finish: "honed", length_mm: 900, width_mm: 500, thickness_mm: 40 } },
    { kind: "pour", done: days(28), pieces: [CODE], body: { mix: "Face mix, pale", batch: "N-1" } },
  ];
  const added = trowelogue.with(JSON.stringify(entries), home, "add", shop, "-");
  assert.equal(added.code, 0, added.out);
};

const walk = async (look) => {
  const place = demo();
  const [home] = place.homes("home");
  cast(home, place.shop);
  dress(home, look);
  const app = await App.open({ home, shop: place.shop, size: SIZES[look.size] });
  const { session } = app;
  try {
    await today(session);
    assert.deepEqual(await worn(session), { theme: look.theme, lang: look.lang });
    await findPiece(session, CODE);
    for (const [kind, values] of COURSE) {
      const before = lines(place.shop).length;
      await beginStep(session, kind);
      for (const [field, value] of Object.entries(values)) await fill(session, field, value);
      await confirmAll(session);
      await write(session);
      assert.ok(lines(place.shop).length > before, `${kind} is in no log`);
      await session.see(`li[data-kind="${kind}"][data-status="counts"]`);
    }
    const shown = await session.run("return [...document.querySelectorAll('li[data-status=counts]')].map((row) => row.dataset.kind)");
    for (const [kind] of COURSE) assert.ok(shown.includes(kind), `${kind} is not in the history`);
    assert.equal(shown.filter((kind) => kind === "seal_coat").length, 3);

    await session.run("location.hash = '#/day'");
    await today(session);
    await findPiece(session, "K-02");
    assert.ok((await session.text("[data-piece]")).includes("K-02"));
    await session.see("li[data-kind=handover]");
    const left = await session.run("return performance.getEntriesByType('resource').map((one) => new URL(one.name)).filter((url) => !['tauri:', 'ipc:', 'blob:', 'data:'].includes(url.protocol) && !/^(ipc|tauri)\\.localhost$/.test(url.hostname)).map(String)");
    assert.deepEqual(left, [], "a request left the app");
    assert.equal(trowelogue(home, "verify", place.shop).code, 0);
  } finally {
    await app.close();
    place.end();
  }
};

for (const look of LOOKS) test(`from demould to the third coat, and an old piece by its label: ${nameOf(look)}`, { timeout: 240_000 }, () => walk(look));
