// Texts that are code somewhere else, in every text a shop writes: the window shows them as the texts they are.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import path from "node:path";
import { writeFileSync } from "node:fs";
import { behaved, launch, open } from "../lib/browser.mjs";
import { bridge, emptyPlace, trowelogue } from "../lib/demo.mjs";

const CODE = [
  "<img src=x onerror=globalThis.ran=1>",
  "</script><script>globalThis.ran=2</script>",
  "{{constructor.constructor('globalThis.ran=3')()}}",
  "javascript:globalThis.ran=4",
  "<svg onload=globalThis.ran=5>",
  "<a href=\"javascript:globalThis.ran=6\">here</a>",
];
const code = (number) => CODE[number % CODE.length];
const at = (day, hour) => `2025-05-${String(day).padStart(2, "0")}T${String(hour).padStart(2, "0")}:00:00-06:00`;
const entries = [
  { kind: "client", body: { name: code(0), address: code(1), contact: code(3), notes: code(4) } },
  { kind: "job", body: { code: code(0), name: code(1), client: code(0), site: code(2) } },
  { kind: "mix", body: { name: code(2), aggregates: ["siliceous"], notes: code(4) } },
  { kind: "piece", body: { code: "C-01", name: code(0), job: code(0), mix: code(2), length_mm: 1200, width_mm: 600, thickness_mm: 40, finish: "honed", notes: code(1) } },
  { kind: "piece", body: { code: code(4), name: code(5), job: code(0) } },
  { kind: "pour", pieces: ["C-01"], done: at(1, 9), body: { mix: code(2), batch: code(3), notes: code(4) } },
  { kind: "demould", pieces: ["C-01"], done: at(3, 9), body: { face: ["clean"], notes: code(5) } },
  { kind: "note", pieces: ["C-01"], done: at(3, 10), body: { text: code(1), notes: code(3) } },
  { kind: "exception", pieces: ["C-01"], done: at(4, 9), body: { rule: "grit-step", accepted_by: code(0), why: code(5) } },
];

let browser;
let place;
let shop;
before(async () => {
  browser = await launch();
  place = emptyPlace();
  shop = path.join(place.place, "shop");
  const run = (...words) => {
    const said = trowelogue(place.home, ...words);
    assert.equal(said.code, 0, said.out);
  };
  run("new", shop, "--shop", code(0), "--person", code(1));
  const file = path.join(place.place, "entries.json");
  for (const entry of entries) {
    writeFileSync(file, JSON.stringify(entry));
    run("add", shop, file);
  }
});
after(async () => {
  await browser?.close();
  place?.end();
});

/** Nothing of the texts became part of the page; gives how many of them can be read on it. */
const harmless = async (page, where) => {
  const found = await page.evaluate(() => ({
    ran: globalThis.ran ?? null,
    made: [...document.querySelectorAll('img[src="x"], [onerror], [onload], script:not([src])')].map((it) => it.outerHTML),
    links: [...document.querySelectorAll("[href], [src], [action]")].filter((it) => /^javascript:/i.test(it.getAttribute("href") ?? it.getAttribute("src") ?? it.getAttribute("action"))).length,
    text: document.body.innerText + [...document.querySelectorAll("input, textarea")].map((it) => it.value).join("\n"),
  }));
  assert.equal(found.ran, null, `${where}: a text ran`);
  assert.deepEqual(found.made, [], `${where}: a text became part of the page`);
  assert.equal(found.links, 0, `${where}: a text became a link`);
  return CODE.filter((text) => found.text.includes(text)).length;
};

test("a text that is code is shown as it was written, on every screen, and nothing runs", async () => {
  const desk = await bridge(place.home, shop);
  const opened = await open(browser, { over: desk.address });
  const { page } = opened;
  let asked = 0;
  page.on("dialog", (dialog) => {
    asked += 1;
    void dialog.dismiss();
  });
  try {
    await page.locator("[data-ready=true]:visible").first().waitFor();
    assert.ok((await harmless(page, "the day")) >= 2);
    await page.locator(".find input").fill(CODE[0]);
    await page.locator(".day[data-sought]").waitFor();
    await harmless(page, "a search for code");
    await page.locator(".find input").fill("C-01");
    await page.locator('.day[data-sought="C-01"] li[data-code="C-01"] > a').click();
    await page.locator('[data-piece="C-01"]').waitFor();
    for (const entry of await page.locator("li[data-kind] details > summary").all()) await entry.click();
    assert.ok((await harmless(page, "a piece")) >= 4);
    const piece = new URL(page.url()).hash.split("/")[2];
    const mend = await page.locator('li[data-kind="note"][data-status="counts"] [data-does="correct"]').first();
    if (await mend.count()) {
      await mend.click();
      await page.locator("form.step").waitFor();
      assert.ok((await harmless(page, "a form")) >= 1);
    }
    for (const [name, hash] of [["papers", `#/papers/${piece}`], ["folder", "#/folder"], ["shop", "#/shop"], ["beside", "#/beside"]]) {
      await page.evaluate((to) => (location.hash = to), hash);
      await page.waitForTimeout(400);
      await harmless(page, name);
    }
    assert.equal(asked, 0, "a dialog came up");
    behaved(opened);
  } finally {
    await opened.context.close();
    await desk.end();
  }
});
