// How many touches a planned step takes, over the real desk: the ten steps a piece's record holds most often, each on a
// piece whose route expects it now. From the row of the day to the entry on disk three at most, and no keyboard.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { after, before, test } from "node:test";
import { behaved, launch, open } from "../lib/browser.mjs";
import { bridge, demo, trowelogue } from "../lib/demo.mjs";

/** The shop's clock in programs built for development; the shop of the demo has worked with every product by then. */
const NOW = "2025-05-13T09:00:00-06:00";
const ago = (days, hours = 0) => `${new Date(Date.parse(NOW) - (days * 24 + hours) * 3_600_000).toISOString().slice(0, 19)}+00:00`;

const pass = (grit) => ({ region: "face", grit, scale: "pad", bond: "resin", wet: true, result: "cut_out", power: "hand", dust: "water" });
const washed = [
  ["demould", 12, { face: ["clean"] }],
  ["inspection", 11, { checklist: [{ what: "face", result: "pass" }] }],
  ["sample_agreed", 11, { samples: ["middle"], agreed_by: "the client", signed: true, distance_mm: 1500, light: "daylight" }],
  ["trial_spot", 10, { of: "acid_wash", good: "yes" }],
  ["acid_wash", 9, { region: "face", acid: "hydrochloric", concentrate_pct: 31, water_parts: 20, acid_parts: 1, cream_lost: "none", pre_wetted: "yes", metal_masked: "yes", trial_spot: "yes" }],
  ["rinse", 8.99, { standing_water_removed: "yes" }],
  ["neutralise", 8.98, { agent: "bicarbonate", water_parts: 10, agent_parts: 1 }],
  ["rinse", 8.97, { standing_water_removed: "yes" }],
  ["ph_reading", 8.96, { ph: 8.5, of: "final_rinse", method: "paper" }],
  ["dry", 8.9, { at: "drying room" }],
];
const sealed = [...washed, ["seal_coat", 4.4, 1], ["seal_coat", 4.2, 2], ["seal_coat", 4, 3], ["sealer_cure", 3.9, { method: "left alone", until: ago(1) }]];
const ground = [["demould", 12, { face: ["clean"] }], ["inspection", 11, { checklist: [{ what: "face", result: "pass" }] }], ["strength", 10, { method: "cylinder", result_mpa: 45, age_h: 168 }]];

/** Each step, the finish of its piece and what was done before. */
const STEPS = {
  demould: ["washed", []],
  inspection: ["washed", washed.slice(0, 1)],
  trial_spot: ["washed", washed.slice(0, 3)],
  rinse: ["washed", washed.slice(0, 5)],
  dry: ["washed", washed.slice(0, 9)],
  seal_coat: ["washed", [...washed, ["climate", 0.02, { air_c: 21, rh_pct: 45, surface_c: 20 }]]],
  sealer_cure: ["washed", [...washed, ["seal_coat", 0.5, 1], ["seal_coat", 0.3, 2], ["seal_coat", 0.1, 3]]],
  grit_pass: ["salt_pepper", ground],
  fill: ["salt_pepper", [...ground, ...[50, 100, 200].map((grit, i) => ["grit_pass", 9 - i, pass(grit)])]],
  handover: ["washed", [...sealed, ["inspection", 0.5, { checklist: [{ what: "face", result: "pass" }] }]]],
};

let browser;
let place;
let desk;
before(async () => {
  process.env.TROWELOGUE_TEST_NOW = NOW;
  browser = await launch();
  place = demo();
  const [home] = place.homes("home");
  const shop = JSON.parse(trowelogue(home, "show", place.shop, "--json").out);
  const coat = shop.pieces.flatMap((piece) => piece.steps).find((step) => step.kind === "seal_coat" && step.status === "counts").body;
  const entries = Object.entries(STEPS).flatMap(([kind, [finish, steps]], i) => {
    const code = `Q-${i}`;
    const step = ([kind, days, body]) => ({ kind, pieces: [code], done: ago(days), body: typeof body === "number" ? { ...coat, coat: body } : body });
    return [
      { kind: "piece", body: { code, name: kind, job: shop.jobs[0].id, length_mm: 900, width_mm: 500, thickness_mm: 25, finish, metal_near: "no" } },
      { kind: "pour", pieces: [code], done: ago(13), body: { code: `P-${i}`, mix: shop.pieces.flatMap((piece) => piece.steps).find((step) => step.kind === "pour").body.mix, batch: `B-${i}` } },
      ...steps.map(step),
    ];
  });
  // What is confirmed once per shift was confirmed this morning.
  entries.push({ kind: "safety_confirmed", done: ago(0, 0.5), body: { topics: ["acid", "solvent", "isocyanate", "on_edge", "burner", "suction"] } });
  const file = path.join(place.place, "entries.json");
  writeFileSync(file, JSON.stringify(entries));
  const added = trowelogue(home, "add", place.shop, file);
  assert.equal(added.code, 0, added.out);
  desk = await bridge(home, place.shop);
});
after(async () => {
  await browser?.close();
  await desk?.end();
  place?.end();
});

for (const [i, kind] of Object.keys(STEPS).entries())
  test(`${kind} takes three touches at most`, { timeout: 60_000 }, async () => {
    const opened = await open(browser, { over: desk.address });
    const { page } = opened;
    let touches = 0;
    const touch = async (what) => {
      touches += 1;
      await what.click({ force: true });
    };
    await page.locator(".find input").fill(`Q-${i}`);
    const row = page.locator(`.day[data-sought="Q-${i}"] li[data-code="Q-${i}"]`);
    await row.waitFor();
    if (kind === "fill") {
      // It may be done before the pass the route expects: it stands on the piece's page.
      await touch(row.locator("> a"));
      await touch(page.locator(`.do [data-does="log-option"][data-kind="${kind}"]`));
    } else await touch(row.locator('[data-does="log-next"]'));
    const form = page.locator(`form.step[data-kind="${kind}"]`);
    await form.waitFor();
    const once = form.locator('[data-does="at-once"]');
    if (await once.count()) await touch(once);
    for (const must of await form.locator("[data-need=must]").all()) {
      const chips = must.locator("input:is([type=radio], [type=checkbox])");
      const empty = must.locator("input:not([type=radio], [type=checkbox], [type=file]), textarea");
      const typed = (await empty.count()) > 0 && (await empty.first().inputValue()) !== "";
      if (typed || (await must.locator("input:checked").count()) > 0) continue;
      assert.ok((await chips.count()) > 0, `${await must.getAttribute("data-field")} has to be typed`);
      await touch(chips.first());
    }
    for (const caution of await form.locator(".safety input:not(:checked)").all()) await touch(caution);
    await touch(form.locator('[data-does="write"]'));
    await page.locator(`[data-piece="Q-${i}"] li[data-kind="${kind}"][data-status="counts"]`).first().waitFor({ timeout: 40_000 });
    assert.ok(touches <= 3, `${touches} touches`);
    behaved(opened);
    await opened.context.close();
  });
