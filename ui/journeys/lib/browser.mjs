// A plain browser with the built page, over memory or over the bridge to the real desk. Nothing it asks for leaves.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { chromium } from "playwright-core";
import { inCheckout, inTarget, SIZES } from "./places.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const kinds = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".woff2": "font/woff2" };
const policy = JSON.parse(readFileSync(inCheckout("src-tauri/tauri.conf.json"), "utf8")).app.security.csp;
const own = "http://trowelogue.test/";

/** Debian's chromium, told to keep to itself. */
export const launch = () =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });

/** The words of the window as they stand in the table in Rust. */
export const words = () => {
  const table = ["words.rs", "words/set_up.rs"].map((file) => readFileSync(inCheckout("src-tauri/crates/api/src", file), "utf8")).join("\n");
  const entry = /\(\s*"([a-z_0-9.]+)",\s*text\(\s*"((?:[^"\\]|\\.)*)",\s*"((?:[^"\\]|\\.)*)",?\s*\)/g;
  const said = { en: {}, es: {} };
  for (const [, key, en, es] of table.matchAll(entry)) Object.assign(said, { en: { ...said.en, [key]: en }, es: { ...said.es, [key]: es } });
  return said;
};

/** Opens a page. `over` is "memory" or the address of a bridge; what the page asked for elsewhere ends up in `strays`. */
export const open = async (browser, { size = "phone", theme = "light", over = "memory", at = "", search = "", ...more } = {}) => {
  const context = await browser.newContext({
    viewport: SIZES[size], colorScheme: theme, hasTouch: size !== "desk", isMobile: size !== "desk", locale: "en", ...more,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const strays = [];
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (line) => line.type() === "error" && errors.push(line.text()));
  const home = over === "memory" ? own : over;
  await context.route("**/*", (route) => {
    const url = new URL(route.request().url());
    if (!url.href.startsWith(home)) {
      strays.push(url.href);
      return route.abort();
    }
    return over === "memory" ? fromDisk(route, url.pathname) : route.continue();
  });
  await page.addInitScript(over === "memory" ? `globalThis.trowelogueTestWords = ${JSON.stringify(words())}` : "");
  await page.addInitScript({ path: inTarget("test-bridge", over === "memory" ? "fixture.js" : "bridge.js") });
  await page.goto(`${home}${search}${at}`);
  return { page, context, strays, errors };
};

const fromDisk = (route, name) => {
  const file = inCheckout("ui/dist", name === "/" ? "index.html" : name);
  try {
    const body = readFileSync(file);
    return route.fulfill({ body, contentType: kinds[path.extname(file)] ?? "text/plain", headers: { "content-security-policy": policy } });
  } catch {
    return route.fulfill({ status: 404 });
  }
};

/** What the accessibility checker finds at A and AA of WCAG 2.2, a line a fault. */
export const faults = async (page) => {
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"];
    const result = await globalThis.axe.run(document, { runOnly: { type: "tag", values: tags } });
    return result.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 160)} ${n.failureSummary}`));
  });
  return found;
};

/** Everything that can be touched and is smaller than `least` px either way, as it lies on the page. */
export const smallTargets = (page, least) =>
  page.evaluate((least) => {
    const touchable = "a[href], button, input:not([type=hidden]), select, textarea, summary";
    const seen = [...document.querySelectorAll(touchable)].filter((node) => node.checkVisibility() && !node.matches(".unseen"));
    return seen.flatMap((node) => {
      // A field inside a framed label is touched anywhere in the frame.
      const box = (node.closest("label.find") ?? node).getBoundingClientRect();
      const small = box.width < least - 0.5 || box.height < least - 0.5;
      return small ? [`${node.outerHTML.slice(0, 120)} ${box.width.toFixed(1)} x ${box.height.toFixed(1)}`] : [];
    });
  }, least);

/** Nothing may stick out sideways: what does is cut off or makes the page swim under a thumb. */
export const overhang = (page) =>
  page.evaluate(() => {
    const width = document.documentElement.clientWidth;
    const out = [...document.body.querySelectorAll("*:not(svg *)")].filter((node) => {
      const box = node.getBoundingClientRect();
      return node.checkVisibility() && !node.closest(".unseen, dialog") && box.width > 0 && (box.right > width + 1 || box.left < -1);
    });
    const innermost = out.filter((node) => !out.some((other) => other !== node && node.contains(other)));
    return innermost.map((node) => node.outerHTML.slice(0, 160)).slice(0, 5);
  });

/** The page behaved: no stray request, no error in its console. */
export const behaved = ({ strays, errors }) => {
  assert.deepEqual(strays, [], "a request left the page");
  assert.deepEqual(errors, [], "the page complained");
};
