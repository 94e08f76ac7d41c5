// What a finisher touches most, timed in the page: from the touch to the answer in the page's hands, and for screens to
// the frame that shows it.

/** Times of the ten commonest, in milliseconds, by name. */
export const touches = async (session, times) => {
  await session.wait(`while (!performance.getEntriesByName("day-shown").length) await new Promise((done) => setTimeout(done, 50));
    await window.__TAURI_INTERNALS__.invoke("folder");`);
  const all = {};
  // A script may run for so long only: some turns at a time.
  for (let from = 0; from < times; from += TURNS) {
    const figures = await session.wait(WORK, from, Math.min(from + TURNS, times));
    for (const [what, taken] of Object.entries(figures)) (all[what] ??= []).push(...taken);
  }
  return all;
};

const TURNS = 5;

const WORK = `
  const [first, end] = arguments;
  const invoke = window.__TAURI_INTERNALS__.invoke;
  const figures = {};
  const time = async (what, work) => {
    const began = performance.now();
    const value = await work();
    (figures[what] ??= []).push(performance.now() - began);
    return value;
  };
  const frame = () => new Promise((done) => requestAnimationFrame(() => done()));
  const until = async (test) => { while (!test()) await frame(); await frame(); };
  const has = (css) => document.querySelector(css) !== null;
  const day = await invoke("day", { ask: {} });
  const all = day.groups.filter((group) => group.state !== "done").flatMap((group) => group.pieces);
  const step = (kind, piece, values) => ({ kind, pieces: [piece], done: null, person: null, values, confirmed: [], note: null });
  const pass = (form, turn) => ({ ...form.values, region: "face", grit: "200", scale: "pad", bond: "resin", wet: true, result: "cut_out", notes: "turn " + turn });
  for (let turn = first; turn < end; turn += 1) {
    const piece = all[(turn * 7) % all.length];
    location.hash = "#/day";
    await until(() => has(".day[data-ready=true]"));
    await time("open a piece", async () => { location.hash = "#/piece/" + piece.id; await until(() => has('[data-piece="' + piece.code + '"]')); });
    await time("back to the day", async () => { location.hash = "#/day"; await until(() => has(".day[data-ready=true] li")); });
    const find = document.querySelector(".find input");
    const type = (text) => { find.value = text; find.dispatchEvent(new Event("input", { bubbles: true })); };
    await time("find a piece by its code", async () => { type(piece.code); await until(() => has('.day[data-sought="' + piece.code + '"]')); });
    await time("the whole day again", async () => { type(""); await until(() => has('.day[data-sought=""]')); });
    const form = await time("open the form of a pass", () => invoke("form", { kind: "grit_pass", pieces: [piece.id] }));
    const draft = step("grit_pass", piece.id, pass(form, turn));
    await time("a touch in the form", () => invoke("try_step", { step: draft }));
    await time("keep the form as it is", () => invoke("keep_draft", { step: draft }));
    const logged = await time("write the pass down", () => invoke("log", { step: draft }));
    await time("strike it", () => invoke("strike", { hash: logged.hashes.at(-1), why: "not done" }));
    await time("the kept forms", () => invoke("drafts"));
  }
  return figures;`;
