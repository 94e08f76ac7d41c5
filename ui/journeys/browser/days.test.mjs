// Work over the real desk: a plain browser, the app's own commands behind it (the bridge), a copy of the demo shop.
import assert from "node:assert/strict";
import { afterEach, after, before, beforeEach, test } from "node:test";
import { behaved, faults, launch, open, overhang, smallTargets } from "../lib/browser.mjs";
import { bridge, demo, emptyPlace, lines } from "../lib/demo.mjs";
import { readdirSync } from "node:fs";
import path from "node:path";

let browser;
let place;
let home;
let desk;
let opened;
before(async () => {
  browser = await launch();
});
after(() => browser?.close());
beforeEach(async () => {
  place = demo();
  [home] = place.homes("home");
  desk = await bridge(home, place.shop);
});
afterEach(async () => {
  if (opened) behaved(opened);
  await opened?.context.close();
  opened = null;
  await desk.end();
  place.end();
});

const show = async (options = {}) => {
  opened = await open(browser, { over: desk.address, ...options });
  await opened.page.locator("[data-ready=true]:visible").first().waitFor();
  return opened.page;
};
const find = async (page, code) => {
  await page.locator(".find input").fill(code);
  await page.locator(`.day[data-sought="${code}"] li[data-code="${code}"] > a`).click();
  await page.locator(`[data-piece="${code}"]`).waitFor();
};
const begin = async (page, kind) => {
  await page.locator(".now summary").click();
  await page.locator(`[data-does="log-${kind}"]`).click();
  await page.locator(`form[data-kind="${kind}"]`).waitFor();
};
/** Fills in fields: a chip where there is one for the value, else the keyboard. */
const fill = async (page, values) => {
  for (const [field, value] of Object.entries(values)) {
    const part = page.locator(`[data-field="${field}"]`);
    if ((await part.count()) === 0) await page.locator(`[data-does="all-fields"]`).click();
    const chip = part.locator(`input:is([type=radio], [type=checkbox])[value="${value}"]`);
    if (await chip.count()) await chip.check({ force: true });
    else {
      await part.locator("input[type=text], input[type=date], input[type=datetime-local], textarea").fill(String(value));
      await page.keyboard.press("Tab");
    }
  }
  for (const box of await page.locator(".safety input").all()) await box.check({ force: true });
};
const write = async (page) => {
  await page.locator(`[data-does="write"]`).click();
  await page.locator(".said p").waitFor();
  await page.locator("[data-piece]").waitFor();
};
const PASS = { grit: "800", scale: "pad", bond: "resin", wet: "yes", result: "cut_out" };

test("a piece is found by its code, by its job, and by what nobody has", async () => {
  const page = await show();
  const search = page.locator(".find input");
  await search.fill("K-02");
  await page.locator('.day[data-sought="K-02"] li[data-code="K-02"]').waitFor();
  assert.deepEqual(await page.locator(".day li").evaluateAll((rows) => rows.map((row) => row.dataset.code)), ["K-02"]);
  await search.fill("saltgrass kitchen");
  await page.locator('.day[data-sought="saltgrass kitchen"] li[data-code="K-02"]').waitFor();
  assert.ok((await page.locator(".day li").count()) > 3, "a job finds its pieces");
  await search.fill("no such thing");
  await page.locator(".empty").waitFor();
  assert.match(await page.locator(".empty").innerText(), /no such thing/);
});

test("a planned mistake of the demo is shown with its rule, its reason and its entries", async () => {
  const page = await show();
  await find(page, "K-02");
  const finding = page.locator('article[data-rule="grit-step"]').first();
  assert.match(await finding.innerText(), /Skipped, the old scratches stay/);
  await finding.locator('[data-does="show"]').click();
  await page.locator("li.chosen details[open]").waitFor();
  assert.ok(await page.locator("li.chosen summary").evaluate((node) => node === document.activeElement));
});

test("a pass with a jump warns before it is written, stands as a finding, and goes when it is struck", async () => {
  const page = await show();
  await find(page, "T-04");
  const before = lines(place.shop).length;
  await begin(page, "grit_pass");
  await fill(page, PASS);
  await page.locator('form article[data-rule="grit-step"]').waitFor();
  assert.equal(lines(place.shop).length, before, "trying a step wrote something");
  await write(page);
  const stands = page.locator('article[data-rule="grit-step"][data-state="stands"]');
  await stands.waitFor();
  assert.ok(lines(place.shop).length > before);
  await page.locator('.said [data-does="undo"]').click();
  await stands.waitFor({ state: "detached" });
  await page.locator('li[data-kind="grit_pass"][data-status="struck"]').waitFor();
});

test("a person answers for a finding, and it is shown as accepted with name and reason", async () => {
  const page = await show();
  await find(page, "K-02");
  await page.locator('article[data-rule="grit-step"] [data-does="except"]').first().click();
  await page.locator("dialog textarea").fill("The client saw the face and wants it so.");
  await page.locator('dialog [data-does="answer"]').click();
  const accepted = page.locator('article[data-rule="grit-step"][data-state="accepted"]');
  await accepted.waitFor();
  assert.match(await accepted.innerText(), /wants it so/);
});

test("a correction asks why, replaces what counts and leaves the first version readable", async () => {
  const page = await show();
  await find(page, "T-04");
  await begin(page, "grit_pass");
  await fill(page, PASS);
  await write(page);
  const row = page.locator('li[data-kind="grit_pass"][data-status="counts"]').first();
  await row.locator("summary").click();
  await row.locator('[data-does="correct"]').click();
  await page.locator("form.step").waitFor();
  await fill(page, { grit: "400" });
  await page.locator('[data-does="write"]').click();
  await page.locator("dialog input[type=radio]").first().check({ force: true });
  await page.locator('dialog [data-does="answer"]').click();
  await page.locator('li[data-kind="grit_pass"][data-status="replaced"]').waitFor();
  assert.equal(await page.locator('article[data-rule="grit-step"][data-state="stands"]').count(), 0);
});

test("a form half filled in is there again after the desk was closed", async () => {
  let page = await show();
  await find(page, "T-04");
  await begin(page, "grit_pass");
  await fill(page, { grit: "800", result: "chatter" });
  await page.waitForTimeout(300);
  await opened.context.close();
  await desk.end();
  desk = await bridge(home, place.shop);
  page = await show();
  await page.locator('.notice[href*="grit_pass"]').click();
  await page.locator("form.step .draft").waitFor();
  assert.ok(await page.locator('[data-field=result] input[value="chatter"]').isChecked());
  await page.locator('[data-does="drop-draft"]').click();
  await page.locator("[data-piece]").waitFor();
});

test("a photo stands in the form at once, survives a crash with it, and is shown in the history and on the map", async () => {
  let page = await show();
  await find(page, "T-04");
  await page.locator('.plan [data-does="point"]').click();
  await page.locator('[data-does="mark-photo"]').click();
  await page.locator('form[data-kind="note"]').waitFor();
  const shot = readdirSync(path.join(place.shop, "photos"), { recursive: true }).find((name) => name.endsWith(".jpg"));
  await page.locator('[data-does="pick-photo"]').setInputFiles(path.join(place.shop, "photos", shot));
  await page.locator('form [data-photo][data-shown="true"]').waitFor();
  await page.waitForTimeout(300);
  await opened.context.close();
  await desk.end();
  desk = await bridge(home, place.shop);
  page = await show();
  await page.locator('.notice[href*="note"]').click();
  await page.locator('form [data-photo][data-shown="true"]').waitFor();
  assert.deepEqual(await faults(page), []);
  await write(page);
  await page.locator('[data-mark="photo"]').waitFor();
  const row = page.locator('li[data-kind="note"][data-status="counts"]').first();
  await row.locator("summary").click();
  await row.locator('[data-photo][data-shown="true"]').waitFor();
  await row.locator("button", { has: page.locator("[data-photo]") }).click();
  await page.locator('dialog [data-photo][data-shown="true"]').waitFor();
  await page.locator('[data-does="close-photo"]').click();
});

test("a file that is no photo is refused in words, and the form keeps what it has", async () => {
  const page = await show();
  await find(page, "T-04");
  await begin(page, "grit_pass");
  await page.locator('[data-does="pick-photo"]').setInputFiles({ name: "x.jpg", mimeType: "image/jpeg", buffer: Buffer.from("no picture") });
  await page.locator("form [role=alert]").waitFor();
  await fill(page, PASS);
  assert.ok(await page.locator('[data-field=result] input[value="cut_out"]').isChecked());
  // A refusal comes as an answer of its own sort over the bridge, and the browser notes it.
  opened.errors.length = 0;
});

/** Begins a pass on T-04 and another piece, whose code it gives. */
const passOnTwo = async (page) => {
  await find(page, "T-04");
  await begin(page, "grit_pass");
  await fill(page, PASS);
  await page.locator('details[data-does="others"] summary').click();
  const other = page.locator('details[data-does="others"] label').first();
  const code = (await other.locator("span").innerText()).split("\n")[0].trim();
  await other.locator("input").check({ force: true });
  await page.locator(".outcome h3", { hasText: code }).waitFor();
  return code;
};

test("one entry covers several pieces, and each piece's findings are told apart before it is written", async () => {
  const page = await show();
  const code = await passOnTwo(page);
  await page.locator(".outcome h3", { hasText: "T-04" }).waitFor();
  await write(page);
  const row = page.locator('li[data-kind="grit_pass"][data-status="counts"]').first();
  await row.locator("summary").click();
  assert.match(await row.innerText(), new RegExp(code));
  await page.goto(`${desk.address}#/day`);
  await find(page, code);
  await page.locator('li[data-kind="grit_pass"][data-status="counts"]').first().waitFor();
});

test("a piece that came back with a draft can be taken out of it again", async () => {
  const page = await show();
  const code = await passOnTwo(page);
  await page.waitForTimeout(300);
  await page.reload();
  await page.locator(".draft").waitFor();
  await page.locator(".outcome h3", { hasText: code }).waitFor();
  await page.locator(".company label", { hasText: code }).locator("input").uncheck({ force: true });
  await page.locator(".outcome h3", { hasText: code }).waitFor({ state: "detached" });
  await write(page);
  const row = page.locator('li[data-kind="grit_pass"][data-status="counts"]').first();
  await row.locator("summary").click();
  assert.doesNotMatch(await row.innerText(), new RegExp(code));
});

test("a clock is shown on the day, and is there again after the desk was closed", async () => {
  let page = await show();
  await find(page, "T-04");
  await begin(page, "neutralise");
  await fill(page, { agent: "bicarbonate", ratio: "10:1", dwell_min: "15" });
  await write(page);
  const clock = '[data-clocks] li:has(a strong:text-is("T-04"))';
  await page.locator('nav a[href="#/day"]').click();
  await page.locator(clock).waitFor();
  await opened.context.close();
  await desk.end();
  desk = await bridge(home, place.shop);
  page = await show();
  await page.locator(clock).waitFor();
  assert.match(await page.locator(clock).innerText(), /1[45] min/);
});

test("the day is narrowed to a person's pieces and to a job's, and says where nothing is like that", async () => {
  const page = await show();
  const codes = () => page.locator(".day li[data-code]").evaluateAll((rows) => rows.map((row) => row.dataset.code));
  const all = (await codes()).length;
  await page.locator("[data-narrowed] summary").click();
  await page.locator("input[name=narrow-job]").first().check({ force: true });
  await page.locator('[data-narrowed="1"]').waitFor();
  await page.waitForFunction((before) => document.querySelectorAll(".day li[data-code]").length < before, all);
  assert.ok((await codes()).length > 0);
});

test("a correction shows both versions, and a step done days ago is marked late before it is written", async () => {
  const page = await show();
  await find(page, "T-04");
  await begin(page, "grit_pass");
  await fill(page, PASS);
  await page.locator("input[name=when][value=earlier]").check({ force: true });
  await page.locator('label:has-text("shop") input[type=datetime-local]').fill("2025-05-02T10:20");
  await page.keyboard.press("Tab");
  await page.locator(".late").waitFor();
  await write(page);
  const row = page.locator('li[data-kind="grit_pass"][data-status="counts"]', { hasText: "800" }).first();
  await row.locator("summary").click();
  await row.locator('[data-does="correct"]').click();
  await page.locator("form.step").waitFor();
  await fill(page, { grit: "400" });
  await page.locator('[data-does="write"]').click();
  await page.locator("dialog input[type=radio]").first().check({ force: true });
  await page.locator('dialog [data-does="answer"]').click();
  const mended = page.locator('li[data-kind="grit_pass"][data-status="counts"]:has(table)').first();
  await mended.locator("summary").click();
  const said = await mended.locator("table").innerText();
  assert.ok(said.includes("800") && said.includes("400"), said);
});

test("a founded shop gives words to write down; a second device joins, waits and is accepted", async () => {
  const fresh = emptyPlace();
  const shop = path.join(fresh.place, "shop");
  const first = await bridge(path.join(fresh.place, "one"));
  const second = await bridge(path.join(fresh.place, "two"));
  try {
    const one = await open(browser, { over: first.address });
    await one.page.locator('input[name="path"]').fill(shop);
    await one.page.locator('input[name="shop"]').fill("Hollow Road Casting");
    await one.page.locator('input[name="found-person"]').fill("Ada Fell");
    await one.page.locator('[data-does="found"]').click();
    await one.page.locator("dialog .key").waitFor();
    assert.ok((await one.page.locator("dialog .key").innerText()).length > 20);
    await one.page.locator('dialog [data-does="written"]').click();

    const two = await open(browser, { over: second.address });
    await two.page.locator('input[name="path"]').fill(shop);
    await two.page.locator('input[name="join-person"]').fill("Bo Marsh");
    await two.page.locator('[data-does="join"]').click();
    await two.page.locator(".standing").waitFor();
    const fingerprint = (await two.page.locator(".standing").innerText()).trim().split(": ").at(-1);

    await one.page.locator('nav a[href="#/folder"]').click();
    const waiting = one.page.locator('li[data-status="apart"]');
    await waiting.waitFor();
    assert.ok((await waiting.innerText()).includes(fingerprint));
    await waiting.locator('[data-does="accept"]').click();
    await one.page.locator('li[data-status="apart"]').waitFor({ state: "detached" });
    await two.page.locator(".standing").waitFor({ state: "detached" });
    for (const each of [one, two]) {
      behaved(each);
      await each.context.close();
    }
  } finally {
    await first.end();
    await second.end();
    fresh.end();
  }
});

test("every paper is made, and the whole record is checked", async () => {
  const page = await show();
  await find(page, "K-01");
  await page.locator('[data-does="papers"]').click();
  for (const kind of ["record", "care", "labels"]) {
    await page.locator(`[data-does="make-${kind}"]`).click();
    await page.locator(`[data-paper="${kind}"] .made`).waitFor({ timeout: 60_000 });
  }
  await page.locator('nav a[href="#/folder"]').click();
  await page.locator('[data-does="verify"]').click();
  await page.locator(".health.good[role=status]").waitFor({ timeout: 60_000 });
});

test("in Spanish and US units the page says so everywhere at once, and after a reload", async () => {
  const page = await show({ at: "#/shop" });
  await page.locator("[name=lang][value=es]").check({ force: true });
  await page.waitForFunction(() => document.documentElement.lang === "es");
  await page.locator("[name=units][value=us]").check({ force: true });
  await page.reload();
  await page.waitForFunction(() => document.documentElement.lang === "es");
  await page.locator('nav a[href="#/day"]').click();
  await find(page, "K-02");
  assert.match(await page.locator("[data-piece]").innerText(), /Recorrido/);
  assert.deepEqual(await overhang(page), []);
});

test("on real pieces too the checker finds nothing, targets are large and nothing sticks out", { timeout: 240_000 }, async () => {
  for (const [size, least] of [["phone", 56], ["desk", 44]])
    for (const theme of ["light", "dark"]) {
      const page = await show({ size, theme });
      for (const code of ["K-02", "T-04"]) {
        await page.goto(`${desk.address}#/day`);
        await find(page, code);
        await page.evaluate(() => document.querySelectorAll("details").forEach((part) => (part.open = true)));
        assert.deepEqual(await faults(page), [], `${code}, ${size}, ${theme}`);
        assert.deepEqual(await smallTargets(page, least), [], `${code}, ${size}`);
        assert.deepEqual(await overhang(page), [], `${code}, ${size}`);
      }
      for (const at of ["#/day", "#/folder", "#/shop", "#/beside"]) {
        await page.goto(`${desk.address}${at}`);
        await page.locator("[data-ready=true]:visible").first().waitFor();
        assert.deepEqual(await faults(page), [], `${at}, ${size}, ${theme}`);
        assert.deepEqual(await smallTargets(page, least), [], `${at}, ${size}`);
        assert.deepEqual(await overhang(page), [], `${at}, ${size}`);
      }
      behaved(opened);
      await opened.context.close();
    }
  opened = null;
});
