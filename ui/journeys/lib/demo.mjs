// A copy of the demo shop and homes that have joined it, in a folder of their own that is thrown away.
import { execFileSync, spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { once } from "node:events";
import os from "node:os";
import path from "node:path";
import { inCheckout, program } from "./places.mjs";

/** The demo shop in a fresh folder; `homes(NAME…)` makes devices that its owner has accepted. */
export const demo = () => {
  const place = mkdtempSync(path.join(os.tmpdir(), "trowelogue-journey-"));
  const shop = path.join(place, "shop");
  cpSync(inCheckout("sample-logs/demo-shop"), shop, { recursive: true });
  return {
    place,
    shop,
    homes: (...names) => {
      const homes = names.map((name) => path.join(place, name));
      execFileSync(program("demo-home"), [...homes.flatMap((home) => ["--home", home]), "--folder", shop], { stdio: "pipe" });
      return homes;
    },
    end: () => rmSync(place, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 }),
  };
};

/** A home that has joined nothing. */
export const emptyPlace = () => {
  const place = mkdtempSync(path.join(os.tmpdir(), "trowelogue-journey-"));
  return { place, home: path.join(place, "home"), end: () => rmSync(place, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 }) };
};

/** Every line of every log in a shop folder. */
export const lines = (shop) => {
  const logs = path.join(shop, "logs");
  const files = readdirSync(logs, { recursive: true }).filter((name) => name.endsWith(".jsonl"));
  return files.flatMap((name) => readFileSync(path.join(logs, name), "utf8").split("\n").filter(Boolean));
};

/** The command line on a folder: exit code and what it printed. */
export const trowelogue = (home, ...words) => {
  try {
    return { code: 0, out: execFileSync(program("trowelogue"), ["--home", home, ...words], { encoding: "utf8", stdio: "pipe" }) };
  } catch (failed) {
    return { code: failed.status, out: `${failed.stdout}${failed.stderr}` };
  }
};

/** The same, with something on its standard input. */
trowelogue.with = (input, home, ...words) => {
  try {
    return { code: 0, out: execFileSync(program("trowelogue"), ["--home", home, ...words], { encoding: "utf8", stdio: "pipe", input }) };
  } catch (failed) {
    return { code: failed.status, out: `${failed.stdout}${failed.stderr}` };
  }
};

/** The bridge over a home: its address, and a way to end it. */
export const bridge = async (home, shop) => {
  const child = spawn(program("examples/bridge"), ["--home", home, ...(shop ? ["--folder", shop] : [])], { stdio: ["pipe", "pipe", "inherit"] });
  const [first] = await Promise.race([
    once(child.stdout, "data"),
    once(child, "exit").then(([code]) => Promise.reject(new Error(`the bridge ended with ${code}`))),
  ]);
  return {
    address: String(first).trim(),
    end: async () => {
      child.stdin.end();
      if (child.exitCode === null) await once(child, "exit");
    },
  };
};
