// The path of a finisher in the real web view, at both sizes: find a piece, log a pass that jumps a grit, see the
// finding and why, see the line on disk, strike it, see the finding go, make both papers.
// `JOURNEY_RUNS=10` walks it ten times over; once each by default.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { App } from "../lib/app.mjs";
import { demo, lines, trowelogue } from "../lib/demo.mjs";
import { SIZES } from "../lib/places.mjs";
import { beginStep, confirmAll, fill, findPiece, strikeNewest, today, write } from "../lib/steps.mjs";

const RUNS = Number(process.env.JOURNEY_RUNS ?? 1);
/** Ground to 200 and filled; the ladder allows 400 next. */
const PIECE = "T-04";
const JUMP = `article[data-rule="grit-step"][data-state="stands"]`;

const walk = async (size) => {
  const place = demo();
  const [home] = place.homes("home");
  const app = await App.open({ home, shop: place.shop, size });
  const { session } = app;
  try {
    await today(session);
    await findPiece(session, PIECE);
    await session.miss(JUMP);

    const before = lines(place.shop);
    await beginStep(session, "grit_pass");
    for (const [field, value] of [["grit", "800"], ["scale", "pad"], ["bond", "resin"], ["wet", "yes"], ["result", "cut_out"]]) await fill(session, field, value);
    await confirmAll(session);
    await session.see(`form ${JUMP}`);
    await write(session);

    const said = await session.text(JUMP.replace("article", "main article"));
    const rule = JSON.parse(trowelogue(home, "rules", "grit-step", "--json").out).rules[0];
    for (const part of [rule.title, rule.why]) assert.ok(said.includes(part), `${said} lacks ${part}`);

    const added = lines(place.shop).filter((line) => !before.includes(line)).map((line) => JSON.parse(line));
    const passes = added.filter((line) => line.e.kind === "grit_pass");
    assert.equal(passes.length, 1);
    assert.equal(passes[0].b.grit, 800);

    await strikeNewest(session, "grit_pass");
    await session.miss(JUMP);
    await session.see(`li[data-kind="grit_pass"][data-status="struck"]`);

    await session.click(`[data-does="papers"]`);
    for (const kind of ["record", "care"]) {
      await session.click(`[data-does="make-${kind}"]`);
      await session.see(`[data-paper="${kind}"] .made`, 60);
      const file = await session.run("return document.querySelector(arguments[0]).textContent", `[data-paper="${kind}"] .path`);
      assert.equal(readFileSync(file).subarray(0, 5).toString(), "%PDF-");
      assert.equal(path.dirname(file), path.join(home, "papers"));
    }
    const record = await session.text(`[data-paper="record"] .path`);
    assert.equal(trowelogue(home, "verify", record).code, 0);
    assert.equal(trowelogue(home, "verify", place.shop).code, 0);
  } finally {
    await app.close();
    place.end();
  }
};

for (const [name, size] of Object.entries({ phone: SIZES.phone, desk: SIZES.desk }))
  for (let run = 1; run <= RUNS; run += 1)
    test(`the path on the ${name}, run ${run} of ${RUNS}`, { timeout: 180_000 }, () => walk(size));
