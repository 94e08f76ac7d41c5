// Pictures of every screen, for looking at: `npm run screenshots` writes them to target/screenshots.
// With `--memory` they come from the screens' own test data instead of the demo shop.
import path from "node:path";
import { launch, open } from "./lib/browser.mjs";
import { folder, inTarget, SIZES, THEMES } from "./lib/places.mjs";

const SCREENS = {
  day: "#/day", piece: "#/piece/k-02", step: "#/step/k-02/grit_pass", papers: "#/papers/k-02", folder: "#/folder", shop: "#/shop",
};

const out = folder(inTarget("screenshots"));
const browser = await launch();
for (const size of Object.keys(SIZES))
  for (const theme of THEMES)
    for (const [name, at] of Object.entries(SCREENS)) {
      const opened = await open(browser, { size, theme, at });
      await opened.page.locator("[data-ready=true]:visible").first().waitFor();
      await opened.page.screenshot({ path: path.join(out, `${name}-${size}-${theme}.png`) });
      await opened.context.close();
    }
await browser.close();
