// Pictures of every screen of the demo shop, for looking at: written to target/screenshots. With `--memory` they show
// the screens' own test data instead, in states that take days to come about.
import { rmSync } from "node:fs";
import path from "node:path";
import { launch, open } from "./lib/browser.mjs";
import { bridge, demo } from "./lib/demo.mjs";
import { folder, inTarget, SIZES, THEMES } from "./lib/places.mjs";

const memory = process.argv.includes("--memory");
const out = inTarget(memory ? "screenshots-memory" : "screenshots");
rmSync(out, { recursive: true, force: true });
folder(out);

// The demo's last day at work, so that its waits are of hours; programs built for release take no such hint.
process.env.TROWELOGUE_TEST_NOW ??= "2025-05-12T14:30:00-06:00";
const place = memory ? null : demo();
const desk = place && (await bridge(place.homes("home")[0], place.shop));
const browser = await launch();
try {
  for (const size of Object.keys(SIZES))
    for (const theme of THEMES) {
      const opened = await open(browser, { size, theme, ...(desk ? { over: desk.address } : {}) });
      const { page } = opened;
      await page.locator(".day[data-ready=true]").waitFor();
      for (const [name, at] of Object.entries(await screens(page))) {
        await page.evaluate((to) => (location.hash = to), at);
        await page.locator(".pane [data-ready=true]:visible, .day[data-ready=true]:visible").first().waitFor();
        await page.waitForTimeout(250);
        await page.screenshot({ path: path.join(out, `${name}-${size}-${theme}.png`) });
        if (!name.startsWith("piece")) continue;
        await page.evaluate(() => document.querySelector(".pane .course")?.scrollIntoView());
        await page.screenshot({ path: path.join(out, `${name}-course-${size}-${theme}.png`) });
      }
      await opened.context.close();
    }
} finally {
  await browser.close();
  await desk?.end();
  place?.end();
}
console.log(`pictures in ${out}`);

/** The address of each screen; pieces are found by their codes. */
async function screens(page) {
  const id = async (code) => {
    if (memory) return "k-02";
    await page.locator(".find input").fill(code);
    const link = page.locator(`.day[data-sought="${code}"] li[data-code="${code}"] > a`);
    await link.waitFor();
    const found = (await link.getAttribute("href")).split("/").at(-1);
    await page.locator(".find input").fill("");
    return found;
  };
  /** The first object of a shelf. */
  const first = async (kind) => {
    if (memory) return `#/object/${kind}/o1`;
    await page.evaluate((to) => (location.hash = to), `#/shelf/${kind}`);
    const link = page.locator(`.shelf[data-shelf="${kind}"] li a`).first();
    await link.waitFor();
    return link.getAttribute("href");
  };
  const [island, bench] = [await id("K-02"), await id("T-04")];
  return {
    day: "#/day", piece: `#/piece/${island}`, "piece-under-way": `#/piece/${bench}`, step: `#/step/${bench}/grit_pass`, wash: `#/step/${bench}/acid_wash`, coat: `#/step/${bench}/seal_coat`, note: `#/step/${bench}/note`,
    papers: `#/papers/${island}`, folder: "#/folder", shop: "#/shop", beside: "#/beside",
    "shelf-pieces": "#/shelf/piece", "shelf-products": "#/shelf/product", "object-piece": `#/object/piece/${island}`,
    "object-product": await first("product"), "object-mix": await first("mix"), "object-tool": await first("tool"), "object-route": "#/object/route/salt_pepper",
    "make-piece": "#/make/piece", "change-piece": `#/change/piece/${island}`, "make-product": "#/make/product", settings: "#/make/settings", "copy-route": "#/copy/route/salt_pepper",
  };
}
