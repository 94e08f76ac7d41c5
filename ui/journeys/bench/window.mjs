// The window on a shop of 10,000 pieces and 100,000 entries: how soon it shows the day, beside an empty window of the
// same shell in the same run, and how long its commonest touches take. `BENCH_STARTS=10` and `BENCH_TOUCHES=40` say
// how often; figures are printed, nothing is judged.
import { execFileSync } from "node:child_process";
import { existsSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { App } from "../lib/app.mjs";
import { folder, inTarget, program } from "../lib/places.mjs";
import { touches } from "./touches.mjs";

const STARTS = Number(process.env.BENCH_STARTS ?? 10);
const TOUCHES = Number(process.env.BENCH_TOUCHES ?? 40);

/** The shop, made once, and the home that founded it. */
const longYears = () => {
  const place = inTarget("long-years");
  const made = path.join(place, "whole");
  const home = path.join(place, "home");
  if (!existsSync(made)) {
    rmSync(place, { recursive: true, force: true });
    folder(place);
    execFileSync(program("long-years"), ["--home", home, "--folder", path.join(place, "shop")], { stdio: "inherit" });
    writeFileSync(made, "");
  }
  return home;
};

/** Milliseconds from asking for the program to the moment the page noted as `mark`, or to its first words. */
const start = async (options, mark) => {
  const app = await App.open(options);
  try {
    const shown = await app.session.wait(`
      const [mark] = arguments;
      const noted = () => (mark ? performance.getEntriesByName(mark) : performance.getEntriesByType("paint"))[0];
      while (!noted()) await new Promise((done) => setTimeout(done, 5));
      return performance.timeOrigin + noted().startTime;`, mark);
    return shown - app.began;
  } finally {
    await app.close();
  }
};

const at = (sorted, percent) => sorted[Math.max(0, Math.ceil((sorted.length * percent) / 100) - 1)] ?? NaN;
const percentiles = (figures) => {
  const sorted = [...figures].sort((a, b) => a - b);
  return [at(sorted, 50), at(sorted, 95)];
};
const line = (what, figures) => {
  const [middle, high] = percentiles(figures);
  console.log(`${what.padEnd(46)} ${middle.toFixed(1).padStart(9)} ${high.toFixed(1).padStart(9)} ${String(figures.length).padStart(6)}`);
  return middle;
};

const home = longYears();
// The first start after the shop was made keeps what the next ones show first.
await start({ home }, "day-shown");
await new Promise((done) => setTimeout(done, 5000));

console.log(`${"window (ms)".padEnd(46)} ${"p50".padStart(9)} ${"p95".padStart(9)} ${"times".padStart(6)}`);
const shown = { empty: [], day: [] };
// In turn, so that whatever else the machine does is spread over both.
for (let turn = 0; turn < STARTS; turn += 1) {
  shown.empty.push(await start({ of: "examples/empty" }, null));
  shown.day.push(await start({ home }, "day-shown"));
}
const empty = line("an empty window of this shell, first words", shown.empty);
const day = line("the app, the day shown", shown.day);
console.log(`${"ratio of the middles (bound 1.5)".padEnd(46)} ${(day / empty).toFixed(2).padStart(9)}`);

const app = await App.open({ home });
try {
  for (const [what, figures] of Object.entries(await touches(app.session, TOUCHES))) line(what, figures);
} finally {
  await app.close();
}
