// The few words of the W3C WebDriver protocol that the journeys need.
import { setTimeout as pause } from "node:timers/promises";

const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";
const KEYS = { Tab: "\uE004", Enter: "\uE007", Escape: "\uE00C", Space: " ", Shift: "\uE008" };

/** One session: a window and what can be done in it. */
export class Session {
  #at;

  constructor(at) {
    this.#at = at;
  }

  /** Starts a session at a driver; it starts the program. */
  static async begin(driver, capabilities) {
    const reply = await ask(`${driver}/session`, "POST", { capabilities: { alwaysMatch: capabilities } });
    return new Session(`${driver}/session/${reply.sessionId}`);
  }

  #ask(path, method = "GET", body = undefined) {
    return ask(this.#at + path, method, body);
  }

  /** Ends the session, and with it the program. */
  async end() {
    await this.#ask("", "DELETE");
  }

  /** Runs a function body in the page. */
  run(body, ...args) {
    return this.#ask("/execute/sync", "POST", { script: body, args });
  }

  /** Runs a function body in the page that returns a promise, and gives what it came to. */
  async wait(body, ...args) {
    const script = `const done = arguments[arguments.length - 1]; const args = [...arguments].slice(0, -1);
      (async function () { ${body} })(...args).then((value) => done({ value }), (thrown) => done({ thrown: thrown?.message ?? JSON.stringify(thrown) }));`;
    const { value, thrown } = await this.#ask("/execute/async", "POST", { script, args });
    if (thrown !== undefined) throw new Error(thrown);
    return value;
  }

  async #find(css) {
    const found = await this.#ask("/elements", "POST", { using: "css selector", value: css });
    return found.map((one) => one[ELEMENT]);
  }

  /** Waits until `css` is on the page and seen. */
  async see(css, seconds = 10) {
    const script = `return [...document.querySelectorAll(arguments[0])].some((node) => node.checkVisibility())`;
    await until(() => this.run(script, css), seconds, () => this.#said(`${css} did not come`));
  }

  /** Waits until `css` is gone. */
  async miss(css, seconds = 10) {
    const script = `return ![...document.querySelectorAll(arguments[0])].some((node) => node.checkVisibility())`;
    await until(() => this.run(script, css), seconds, () => this.#said(`${css} did not go`));
  }

  async #said(what) {
    return `${what}; the page says: ${(await this.run("return document.body.innerText")).slice(0, 1500)}`;
  }

  /** Touches the first element of `css` that is seen, as a person would: brought to the middle, then with a pointer. */
  async click(css) {
    await this.see(css);
    const script = `
      const nodes = [...document.querySelectorAll(arguments[0])];
      const index = nodes.findIndex((node) => node.checkVisibility());
      nodes[index].scrollIntoView({ block: "center" });
      return index;`;
    const index = await this.run(script, css);
    const ids = await this.#find(css);
    try {
      await this.#ask(`/element/${ids[index]}/click`, "POST", {});
    } catch (error) {
      throw new Error(`${css}: ${error.message}`, { cause: error });
    }
  }

  /** Types into the first element of `css`. */
  async type(css, text) {
    await this.see(css);
    // What stays at the foot of a form covers what the driver scrolls no further than into sight.
    await this.run("document.querySelector(arguments[0]).scrollIntoView({ block: 'center' })", css);
    const [id] = await this.#find(css);
    try {
      await this.#ask(`/element/${id}/clear`, "POST", {});
    } catch (error) {
      throw new Error(`${css}: ${error.message}`, { cause: error });
    }
    await this.#ask(`/element/${id}/value`, "POST", { text });
  }

  /** Presses a key wherever the keyboard is. */
  async press(key) {
    const value = KEYS[key] ?? key;
    const actions = [{ type: "keyDown", value }, { type: "keyUp", value }];
    await this.#ask("/actions", "POST", { actions: [{ type: "key", id: "keyboard", actions }] });
  }

  text(css) {
    return this.run("return document.querySelector(arguments[0])?.innerText ?? null", css);
  }

  /** Gives the page exactly this size. */
  async resize({ width, height }) {
    await this.#ask("/window/rect", "POST", { x: 0, y: 0, width, height });
    const script = "return [innerWidth, innerHeight].join()";
    await until(async () => (await this.run(script)) === `${width},${height}`, 5, async () => `the page is ${await this.run(script)}`);
  }

  /** A picture of the window, as PNG bytes. */
  async picture() {
    return Buffer.from(await this.#ask("/screenshot"), "base64");
  }

  reload() {
    return this.#ask("/refresh", "POST", {});
  }
}

const ask = async (url, method, body) => {
  const reply = await fetch(url, { method, ...(body === undefined ? {} : { body: JSON.stringify(body) }), signal: AbortSignal.timeout(60_000) });
  const { value } = await reply.json();
  if (!reply.ok) throw new Error(`${method} ${url.replace(/.*\/session/, "")}: ${value.error}: ${value.message}`);
  return value;
};

/** Asks again until the answer is yes. */
export const until = async (question, seconds, say) => {
  const end = Date.now() + seconds * 1000;
  for (;;) {
    if (await question()) return;
    if (Date.now() > end) throw new Error(await say());
    await pause(50);
  }
};
