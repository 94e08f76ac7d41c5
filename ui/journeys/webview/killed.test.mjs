// The app ended in the middle of writing, as by a power cut: every step that was acknowledged is there when it is
// opened again, and the record is whole. `KILL_ROUNDS=50` for the long run; five rounds by default.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { setTimeout as pause } from "node:timers/promises";
import { App } from "../lib/app.mjs";
import { demo, trowelogue } from "../lib/demo.mjs";
import { today } from "../lib/steps.mjs";

const ROUNDS = Number(process.env.KILL_ROUNDS ?? 5);

let place;
let home;
before(() => {
  place = demo();
  [home] = place.homes("home");
});
after(() => place?.end());

/** Starts to write steps without a pause, each acknowledged one noted in the page. */
const START = `
  const [round] = arguments;
  const invoke = window.__TAURI_INTERNALS__.invoke;
  const day = await invoke("day", { ask: { find: "T-04" } });
  const piece = day.groups.flatMap((group) => group.pieces).find((one) => one.code === "T-04").id;
  const form = await invoke("form", { kind: "rinse", pieces: [piece] });
  window.acknowledged = [];
  window.refused = null;
  (async () => {
    for (let i = 0; ; i += 1) {
      const values = { ...form.values, standing_water_removed: "yes", notes: "round " + round + ", step " + i };
      const step = { kind: "rinse", pieces: [piece], done: null, person: null, values, confirmed: form.confirm.map((one) => one.key), note: null };
      const logged = await invoke("log", { step });
      window.acknowledged.push(...logged.hashes);
    }
  })().catch((thrown) => { window.refused = thrown.message ?? String(thrown); });`;

test(`nothing acknowledged is lost in ${ROUNDS} rounds`, { timeout: ROUNDS * 30_000 }, async () => {
  let acknowledged = [];
  for (let round = 1; round <= ROUNDS; round += 1) {
    const app = await App.open({ home, shop: place.shop });
    const { session } = app;
    await today(session);
    await session.wait(START, round);
    let seen = [];
    // A different moment each round, always after some steps are written.
    const end = Date.now() + 400 + ((round * 137) % 700);
    while (Date.now() < end || seen.length < 2) {
      assert.equal(await session.run("return window.refused"), null);
      seen = await session.run("return window.acknowledged");
    }
    await pause((round * 13) % 40);
    await app.kill();
    acknowledged = acknowledged.concat(seen);
  }

  const app = await App.open({ home, shop: place.shop });
  try {
    await today(app.session);
    const shown = await app.session.wait(`
      const invoke = window.__TAURI_INTERNALS__.invoke;
      const day = await invoke("day", { ask: { find: "T-04" } });
      const piece = day.groups.flatMap((group) => group.pieces).find((one) => one.code === "T-04").id;
      return (await invoke("piece", { id: piece })).history.map((item) => item.hash);`);
    assert.deepEqual(acknowledged.filter((hash) => !shown.includes(hash)), [], "acknowledged steps are gone");
    assert.ok(acknowledged.length >= ROUNDS * 2);
    console.log(`# ${acknowledged.length} acknowledged steps over ${ROUNDS} rounds, all there`);
  } finally {
    await app.close();
  }
  const verified = trowelogue(home, "verify", place.shop);
  assert.equal(verified.code, 0, verified.out);
});
