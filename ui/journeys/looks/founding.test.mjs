// Two apps with empty homes and one folder: one founds the shop, the other joins, waits, is accepted, and each sees
// what the other writes within two seconds. In every look of the matrix.
import assert from "node:assert/strict";
import path from "node:path";
import { test } from "node:test";
import { App } from "../lib/app.mjs";
import { emptyPlace, trowelogue } from "../lib/demo.mjs";
import { dress, LOOKS, nameOf } from "../lib/matrix.mjs";
import { SIZES } from "../lib/places.mjs";

/** Runs until the page shows it; within two seconds, as promised. */
const soon = async (session, css, what) => {
  const began = Date.now();
  await session.see(css, 10);
  assert.ok(Date.now() - began < 2000, `${what} took ${Date.now() - began} ms`);
};

const walk = async (look) => {
  const place = emptyPlace();
  const shop = path.join(place.place, "shop");
  const homes = ["one", "two"].map((name) => path.join(place.place, name));
  homes.forEach((home) => dress(home, look));
  const apps = [];
  try {
    for (const home of homes) apps.push(await App.open({ home, size: SIZES[look.size] }));
    const [one, two] = apps.map((app) => app.session);
    await one.type('input[name="path"]', shop);
    await one.type('input[name="shop"]', "Hollow Road Casting");
    await one.type('input[name="found-person"]', "Ada Fell");
    await one.click('[data-does="found"]');
    await one.click('dialog [data-does="written"]');
    await one.click('nav a[href="#/folder"]');
    await one.see(".folder[data-ready=true]");

    await two.type('input[name="path"]', shop);
    await two.type('input[name="join-person"]', "Bo Marsh");
    await two.click('[data-does="join"]');
    await two.see(".standing");
    await one.see('li[data-status="apart"]');
    await one.click('li[data-status="apart"] [data-does="accept"]');
    await two.miss(".standing");

    await two.click('nav a[href="#/day"]');
    await two.see(".day[data-ready=true]");
    const added = trowelogue.with(JSON.stringify({ kind: "piece", body: { code: "S-1", name: "Shelf", finish: "honed" } }), homes[0], "add", shop, "-");
    assert.equal(added.code, 0, added.out);
    await soon(two, 'li[data-code="S-1"]', "what one wrote, in the other");
  } finally {
    for (const app of apps) await app.close();
    place.end();
  }
};

for (const look of LOOKS) test(`a shop is founded and joined: ${nameOf(look)}`, { timeout: 120_000 }, () => walk(look));
