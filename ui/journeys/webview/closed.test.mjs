// What the page may not do, in the real web view: whatever a hostile name or note brought into it would be refused too.
import assert from "node:assert/strict";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { App } from "../lib/app.mjs";
import { emptyPlace } from "../lib/demo.mjs";

let app;
let session;
const place = emptyPlace();
before(async () => {
  app = await App.open({ home: place.home });
  session = app.session;
  await session.see("main");
});
after(async () => {
  await app?.close();
  place.end();
});

test("an inline script is not run", async () => {
  const ran = await session.wait(`
    const script = document.createElement("script");
    script.textContent = "globalThis.broken = true";
    document.head.append(script);
    document.body.insertAdjacentHTML("beforeend", "<img src='blob:nothing' onerror='globalThis.broken = true'>");
    await new Promise((done) => setTimeout(done, 300));
    document.querySelector("img[onerror]").remove();
    script.remove();
    return globalThis.broken === true;`);
  assert.equal(ran, false);
});

test("eval and its kin are refused", async () => {
  // Run by a timer of the page, so that the driver's own rights do not count.
  const names = await session.wait(`
    return await new Promise((done) => setTimeout(() => {
      const outcome = (work) => { try { work(); return "ran"; } catch (error) { return error.name; } };
      done([outcome(() => (0, eval)("1")), outcome(() => new Function("return 1"))]);
    }));`);
  assert.deepEqual(names, ["EvalError", "EvalError"]);
});

test("nothing can be fetched, and nothing arrives", async () => {
  let asked = 0;
  const server = createServer((_, reply) => {
    asked += 1;
    reply.setHeader("access-control-allow-origin", "*");
    reply.end("in");
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  const address = `http://127.0.0.1:${server.address().port}/`;
  const outcomes = await session.wait(`
    const [address] = arguments;
    const fetched = await fetch(address).then(() => "arrived", () => "refused");
    const sent = await new Promise((done) => { const x = new XMLHttpRequest(); x.onload = () => done("arrived"); x.onerror = () => done("refused"); try { x.open("GET", address); x.send(); } catch { done("refused"); } });
    const image = await new Promise((done) => { const i = new Image(); i.onload = () => done("arrived"); i.onerror = () => done("refused"); i.src = address; });
    const script = await new Promise((done) => { const s = document.createElement("script"); s.onload = () => done("arrived"); s.onerror = () => done("refused"); s.src = address; document.head.append(s); });
    const socket = await new Promise((done) => { try { const w = new WebSocket(address.replace("http", "ws")); w.onopen = () => done("arrived"); w.onerror = () => done("refused"); } catch { done("refused"); } });
    navigator.sendBeacon?.(address, "x");
    await new Promise((done) => setTimeout(done, 300));
    return [fetched, sent, image, script, socket];`, address);
  server.close();
  assert.deepEqual(outcomes, Array(5).fill("refused"));
  assert.equal(asked, 0);
});

test("a command that was not granted is refused", async () => {
  for (const command of ["plugin:dialog|open", "plugin:opener|open_path", "plugin:fs|read_file", "plugin:shell|execute", "no_such_command"]) {
    const said = await session.wait(`
      return await window.__TAURI_INTERNALS__.invoke(arguments[0], {}).then(() => "ran", (thrown) => String(thrown?.message ?? thrown));`, command);
    assert.match(said, /not allowed|not found/i, command);
  }
});
