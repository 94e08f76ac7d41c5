// A whole journey by keyboard alone over the real desk: find a piece, open it, log its next step, strike it. In every
// look of the matrix.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { behaved, launch, open } from "../lib/browser.mjs";
import { bridge, demo } from "../lib/demo.mjs";
import { dress, LOOKS, nameOf } from "../lib/matrix.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser?.close());

/** Presses Tab until the keyboard stands on what is wanted. */
const reach = async (page, css) => {
  for (let i = 0; i < 120; i += 1) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) ?? false, css)) return;
    await page.keyboard.press("Tab");
  }
  assert.fail(`${css} cannot be reached by Tab`);
};

/** Puts the keyboard on a choice of a group and takes it: arrows move within a group of one choice. */
const choose = async (page, field, value) => {
  await reach(page, `[data-field=${field}] input`);
  const taken = () => page.evaluate(([name, wanted]) => document.activeElement.closest(`[data-field=${name}]`) !== null && document.activeElement.value === wanted, [field, value]);
  for (let i = 0; i < 12 && !(await taken()); i += 1) await page.keyboard.press("ArrowDown");
  assert.ok(await taken(), `${value} of ${field} cannot be reached by arrows`);
  if (!(await page.evaluate(() => document.activeElement.checked))) await page.keyboard.press("Space");
};

const walk = async (look) => {
  const place = demo();
  const [home] = place.homes("home");
  dress(home, look);
  const desk = await bridge(home, place.shop);
  try {
    const opened = await open(browser, { over: desk.address, size: look.size, theme: look.theme });
    const { page } = opened;
    await page.locator(".day[data-ready=true]").waitFor();
    await reach(page, ".find input");
    await page.keyboard.type("T-04");
    await page.locator('.day[data-sought="T-04"] li[data-code="T-04"]').waitFor();
    await reach(page, 'li[data-code="T-04"] > a');
    await page.keyboard.press("Enter");
    await page.locator('[data-piece="T-04"]').waitFor();
    await reach(page, ".now summary");
    await page.keyboard.press("Enter");
    await reach(page, '[data-does="log-rinse"]');
    await page.keyboard.press("Enter");
    await page.locator('form[data-kind="rinse"]').waitFor();
    await choose(page, "standing_water_removed", "yes");
    for (const box of await page.locator(".safety input").all()) {
      await reach(page, `.safety input[value="${await box.getAttribute("value")}"]`);
      if (!(await box.isChecked())) await page.keyboard.press("Space");
    }
    await reach(page, '[data-does="write"]');
    await page.keyboard.press("Enter");
    await page.locator(".said p").waitFor();
    await page.locator('li[data-kind="rinse"][data-status="counts"]').first().waitFor();
    await reach(page, '.said [data-does="undo"]');
    await page.keyboard.press("Enter");
    const struck = 'li[data-kind="rinse"][data-status="struck"]';
    await page.locator(struck).first().waitFor();
    // An older one is struck from the history, with a reason.
    const older = 'li[data-kind="grit_pass"][data-status="counts"]';
    const count = await page.locator('li[data-kind="grit_pass"][data-status="struck"]').count();
    await reach(page, `${older} summary`);
    await page.keyboard.press("Enter");
    await reach(page, `${older} [data-does="strike"]`);
    await page.keyboard.press("Enter");
    await page.locator("dialog[open]").waitFor();
    await reach(page, "dialog input[type=radio]");
    await page.keyboard.press("Space");
    await reach(page, 'dialog [data-does="answer"]');
    await page.keyboard.press("Enter");
    await page.locator('li[data-kind="grit_pass"][data-status="struck"]').nth(count).waitFor();
    behaved(opened);
    await opened.context.close();
  } finally {
    await desk.end();
    place.end();
  }
};

for (const look of LOOKS) test(`a step is found, logged and struck by keyboard alone: ${nameOf(look)}`, { timeout: 120_000 }, () => walk(look));
