// The app ended as by a power cut in the middle of a form, and while a timer runs: opened again, both are there. In
// every look of the matrix.
import assert from "node:assert/strict";
import { test } from "node:test";
import { App } from "../lib/app.mjs";
import { demo } from "../lib/demo.mjs";
import { dress, LOOKS, nameOf } from "../lib/matrix.mjs";
import { SIZES } from "../lib/places.mjs";
import { beginStep, confirmAll, fill, findPiece, today, write } from "../lib/steps.mjs";

const CODE = "T-04";
/** What an edited form needs to reach the disk: it is kept at every touch. */
const kept = (session) =>
  session.wait(`while ((await window.__TAURI_INTERNALS__.invoke("drafts")).length === 0) await new Promise((done) => setTimeout(done, 20));`);

const walk = async (look) => {
  const place = demo();
  const [home] = place.homes("home");
  dress(home, look);
  const open = () => App.open({ home, shop: place.shop, size: SIZES[look.size] });
  let app = await open();
  try {
    // A fill that has to cure: its clock runs on the wall, not in the page.
    await today(app.session);
    await findPiece(app.session, CODE);
    await beginStep(app.session, "fill");
    for (const [field, value] of [["material", "cement_fill"], ["lot", "F-12"], ["method", "slurry"]]) await fill(app.session, field, value);
    await confirmAll(app.session);
    await write(app.session);
    await app.session.see("[role=timer]");
    await beginStep(app.session, "grit_pass");
    for (const [field, value] of [["grit", "800"], ["result", "chatter"]]) await fill(app.session, field, value);
    await kept(app.session);
    await app.kill();

    app = await open();
    await today(app.session);
    await app.session.see(`li[data-code="${CODE}"] [role=timer]`);
    await app.session.click('.notice[href*="grit_pass"]');
    await app.session.see("form.step .draft");
    assert.equal(await app.session.run(`return document.querySelector('[data-field=result] input[value="chatter"]').checked`), true);
  } finally {
    await app.close();
    place.end();
  }
};

for (const look of LOOKS) test(`a form half filled in and a running clock outlive the app: ${nameOf(look)}`, { timeout: 180_000 }, () => walk(look));
