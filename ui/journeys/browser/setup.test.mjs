// An empty shop to its first pour in the window alone: by touch at phone size, and again with the keyboard only.
import assert from "node:assert/strict";
import path from "node:path";
import { after, before, test } from "node:test";
import { behaved, launch, open, overhang, smallTargets } from "../lib/browser.mjs";
import { bridge, emptyPlace, lines, trowelogue } from "../lib/demo.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser?.close());

/** Works the page with a finger: touches what can be touched, writes with the screen's keyboard. */
const byTouch = (page) => ({
  press: (css) => page.locator(css).first().tap(),
  write: async (css, text) => {
    await page.locator(css).first().tap();
    await page.locator(css).first().fill(text);
    await page.locator(css).first().blur();
  },
  choose: (field, value) => page.locator(`[data-field="${field}"] input[value="${value}"]`).first().tap(),
});

/** Works the page with the keyboard alone: Tab to reach, Enter or Space to press, letters to write. */
const byKeys = (page) => {
  const reach = async (css) => {
    await page.locator(css).first().waitFor();
    for (let i = 0; i < 250; i += 1) {
      if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) ?? false, css)) return;
      await page.keyboard.press("Tab");
    }
    assert.fail(`${css} cannot be reached by Tab`);
  };
  return {
    press: async (css) => {
      await reach(css);
      await page.keyboard.press("Enter");
    },
    write: async (css, text) => {
      await reach(css);
      await page.keyboard.press("Control+A");
      await page.keyboard.type(text);
      await page.keyboard.press("Tab");
    },
    // A group of radio buttons is one stop; its arrows go from one to the next.
    choose: async (field, value) => {
      const one = `[data-field="${field}"] input[value="${value}"]`;
      const several = await page.locator(one).first().evaluate((node) => node.type === "checkbox");
      if (several) {
        await reach(one);
        return page.keyboard.press("Space");
      }
      await reach(`[data-field="${field}"] input[type=radio]`);
      await page.keyboard.press("Space");
      for (let i = 0; i < 60 && !(await page.locator(one).first().isChecked()); i += 1) await page.keyboard.press("ArrowRight");
      assert.ok(await page.locator(one).first().isChecked(), `${field}: ${value}`);
    },
  };
};

/** From nothing to the first pour. Every line of the shop's log comes from the window. */
const toTheFirstPour = async (page, hand, shop, least) => {
  const looked = async () => {
    assert.deepEqual(await smallTargets(page, least), []);
    assert.deepEqual(await overhang(page), []);
  };
  await hand.write('input[name="path"]', shop);
  await hand.write('input[name="shop"]', "Hollow Road Casting");
  await hand.write('input[name="found-person"]', "Ada Fell");
  await hand.press('[data-does="found"]');
  await page.locator("dialog .key").waitFor();
  await hand.press('dialog [data-does="written"]');
  await page.locator(".shelves[data-ready=true]").waitFor();
  await looked();
  await hand.press('nav a[href="#/day"]');
  await page.locator('[data-does="first"]').waitFor();
  await looked();
  await hand.press('[data-does="first"]');

  const make = async (shelf, name, fill) => {
    await hand.press('nav a[href="#/shop"]');
    await hand.press(`.shelves a[data-shelf="${shelf}"]`);
    await page.locator(`.shelf[data-shelf="${shelf}"][data-ready=true]`).waitFor();
    await hand.press('[data-does="add"]');
    await page.locator(`form[data-shelf="${shelf}"]`).waitFor();
    await fill();
    await looked();
    await hand.press('form.object [data-does="write"]');
    await page.locator(`.sheet[data-object="${name}"]`).waitFor();
    await looked();
  };
  const text = (field, words) => hand.write(`[data-field="${field}"] :is(input[type=text], textarea)`, words);

  await make("client", "Rill family", () => text("name", "Rill family"));
  await make("job", "J-01", async () => {
    await text("code", "J-01");
    await text("name", "Kitchen at Fern Rise");
    await hand.choose("client", await value(page, "client", "Rill family"));
  });
  await make("mix", "Grey face mix", async () => {
    await text("name", "Grey face mix");
    await hand.choose("aggregates", "siliceous");
  });
  await make("product", "Clear sealer", async () => {
    await text("name", "Clear sealer");
    await hand.choose("class", "waterborne_urethane");
    await hand.choose("hazards", "GHS07");
  });
  assert.equal(await page.locator('[data-hazard="GHS07"] svg').count(), 1, "the pictogram is drawn");
  await make("piece", "K-01", async () => {
    await text("code", "K-01");
    await text("name", "Island");
    await hand.choose("job", await value(page, "job", "J-01"));
    await hand.choose("mix", await value(page, "mix", "Grey face mix"));
    await text("length_mm", "1800");
    await text("width_mm", "900");
    await hand.choose("finish", "salt_pepper");
    await hand.press('[data-field="cut_outs"] [data-does="add-row"]');
    for (const [part, mm] of Object.entries({ x_mm: "400", y_mm: "200", length_mm: "520", width_mm: "380" }))
      await hand.write(`[data-field="cut_outs"] [data-row="0"] [data-part="${part}"]`, mm);
    await hand.choose("finished_edges", "front");
    await page.locator(".drawn svg path").first().waitFor();
    await page.waitForFunction(() => /520/.test(document.querySelector(".drawn")?.textContent ?? ""));
  });

  await hand.press('[data-does="course"]');
  await page.locator('[data-piece="K-01"]').waitFor();
  await hand.press(".now summary");
  await hand.press('[data-does="log-route_chosen"]');
  await page.locator('form[data-kind="route_chosen"]').waitFor();
  await hand.choose("code", "salt_pepper");
  await hand.press('form.step [data-does="write"]');
  await page.locator('li[data-kind="route_chosen"]').waitFor();

  await hand.press(".now summary");
  await hand.press('[data-does="log-pour"]');
  await page.locator('form[data-kind="pour"]').waitFor();
  const batch = page.locator('[data-field="batch"] input[type=text]');
  if ((await batch.inputValue()) === "") await text("batch", "B-1");
  for (const box of await page.locator(".safety input").all()) if (!(await box.isChecked())) await hand.press(`.safety input[value="${await box.getAttribute("value")}"]`);
  await hand.press('form.step [data-does="write"]');
  await page.locator('li[data-kind="pour"][data-status="counts"]').waitFor();
  await looked();
};

/** The value of an option by its words. */
const value = async (page, field, label) => page.locator(`[data-field="${field}"] label`, { hasText: label }).locator("input").first().getAttribute("value");

for (const [how, hands, options, least] of [
  ["by touch on a phone", byTouch, { size: "phone" }, 56],
  ["with the keyboard alone", byKeys, { size: "phone", hasTouch: false, isMobile: false }, 56],
])
  test(`an empty folder becomes a shop with its first pour ${how}`, { timeout: 240_000 }, async () => {
    const place = emptyPlace();
    const shop = path.join(place.place, "shop");
    const desk = await bridge(place.home);
    try {
      const opened = await open(browser, { over: desk.address, ...options });
      await toTheFirstPour(opened.page, hands(opened.page), shop, least);
      behaved(opened);
      await opened.context.close();
      assert.ok(lines(shop).length >= 10);
      const shown = trowelogue(place.home, "show", shop);
      assert.equal(shown.code, 0, shown.out);
      for (const word of ["K-01", "Island", "salt_pepper"]) assert.ok(shown.out.includes(word), shown.out);
      assert.equal(trowelogue(place.home, "verify", shop).code, 0);
    } finally {
      await desk.end();
      place.end();
    }
  });
