// What a finisher does in the window, told in the words of the real web view's session.
import assert from "node:assert/strict";

/** The day is shown. */
export const today = (session) => session.see(".day[data-ready=true]");

/** Finds a piece by its code and opens it. */
export const findPiece = async (session, code) => {
  await session.type(".find input", code);
  const row = `.day[data-sought="${code}"] li[data-code="${code}"] a`;
  await session.see(row);
  await session.click(row);
  await session.see(`[data-piece="${code}"]`);
};

/** Opens the form of a step, planned or not. */
export const beginStep = async (session, kind) => {
  await session.click(".now details > summary");
  await session.click(`[data-does="log-${kind}"]`);
  await session.see(`form[data-kind="${kind}"]`);
};

/** Stands for whatever is offered first. */
export const FIRST = Symbol("first");

/** Fills in a field: touches the chip where there is one, types where there is none. */
export const fill = async (session, field, value) => {
  const part = `[data-field="${field}"]`;
  if (!(await session.run("return document.querySelector(arguments[0]) !== null", part))) await session.click(`[data-does="all-fields"]`);
  await session.see(part);
  if (value === FIRST) return session.click(`${part} :is(input[type=radio], input[type=checkbox])`);
  const chip = `${part} input[type=radio][value="${value}"], ${part} input[type=checkbox][value="${value}"]`;
  if (await session.run("return document.querySelector(arguments[0]) !== null", chip)) return session.click(chip);
  await session.type(`${part} :is(input[type=text], textarea)`, String(value));
  return session.press("Tab");
};

/** Confirms every caution that stands before the work. */
export const confirmAll = async (session) => {
  const open = () => session.run("return [...document.querySelectorAll('.safety input')].findIndex((box) => !box.checked)");
  for (let i = await open(), turn = 0; i >= 0 && turn < 20; i = await open(), turn += 1)
    await session.click(`.safety input[value="${await session.run("return document.querySelectorAll('.safety input')[arguments[0]].value", i)}"]`);
};

/** Writes the step down; the page comes back to the piece and says where the entry stands. */
export const write = async (session) => {
  await session.click(`[data-does="write"]`);
  await session.see(".said p");
  await session.see("[data-piece]");
  assert.equal(await session.run("return document.querySelector('form.step')"), null);
};

/** Strikes the newest entry of a kind, with a reason. */
export const strikeNewest = async (session, kind) => {
  const row = `li[data-kind="${kind}"][data-status="counts"]`;
  if (!(await session.run("return document.querySelector(arguments[0]).open", `${row} details`))) await session.click(`${row} summary`);
  await session.click(`${row} [data-does="strike"]`);
  await session.click("dialog input[type=radio]");
  await session.click(`dialog [data-does="answer"]`);
  await session.miss("dialog");
};
