// Two apps with homes of their own on one folder: what is written in one is shown in the other without a touch.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { App } from "../lib/app.mjs";
import { demo } from "../lib/demo.mjs";
import { SIZES } from "../lib/places.mjs";
import { beginStep, confirmAll, fill, findPiece, today, write } from "../lib/steps.mjs";

let place;
let one;
let other;
before(async () => {
  place = demo();
  const [first, second] = place.homes("one", "other");
  one = await App.open({ home: first, shop: place.shop, size: SIZES.phone });
  other = await App.open({ home: second, shop: place.shop, size: SIZES.desk });
});
after(async () => {
  await one?.close();
  await other?.close();
  place?.end();
});

test("an entry written in one is shown in the other within 2 s", { timeout: 120_000 }, async () => {
  for (const { session } of [one, other]) {
    await today(session);
    await findPiece(session, "T-04");
  }
  const count = `return document.querySelectorAll('li[data-kind="rinse"]').length`;
  const had = await other.session.run(count);
  await beginStep(one.session, "rinse");
  await fill(one.session, "standing_water_removed", "yes");
  await confirmAll(one.session);
  await write(one.session);
  const written = Date.now();
  while ((await other.session.run(count)) === had) assert.ok(Date.now() - written < 2000, "2 s went by and the other shows nothing new");
  assert.equal(await other.session.run(count), had + 1);
});
