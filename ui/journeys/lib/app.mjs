// The app as it was built, in its real web view, one driver a window.
import { spawn } from "node:child_process";
import { readFileSync, readdirSync, readlinkSync } from "node:fs";
import { createServer } from "node:net";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { program } from "./places.mjs";
import { Session, until } from "./webdriver.mjs";

const DRIVER = process.env.WEBKIT_DRIVER ?? "/usr/bin/WebKitWebDriver";

/** A running app: its session, and ways to end it. */
export class App {
  /** Opens the app on a home and a shop folder, at a size; or another program of the shell. */
  static async open({ home, shop, size, of = "trowelogue-app" }) {
    const port = await freePort();
    // The web view waits for a driver only where this is set; the app inherits the driver's environment.
    const driver = spawn(DRIVER, [`--port=${port}`, "--host=127.0.0.1"], {
      env: { ...process.env, TAURI_WEBVIEW_AUTOMATION: "true" },
      stdio: process.env.JOURNEY_LOUD ? "inherit" : "ignore",
    });
    const app = new App();
    app.driver = driver;
    const at = `http://127.0.0.1:${port}`;
    try {
      await until(() => fetch(`${at}/status`).then((r) => r.ok, () => false), 10, () => "the driver does not answer");
      const options = { binary: program(of), args: home ? ["--home", home, ...(shop ? ["--folder", shop] : [])] : [] };
      app.began = Date.now();
      app.session = await Session.begin(at, { "webkitgtk:browserOptions": options });
      app.pid = childNamed(driver.pid, path.basename(of));
      if (size) await app.session.resize(size);
      return app;
    } catch (error) {
      await app.stop();
      throw error;
    }
  }

  /** Ends window and driver. */
  async close() {
    await this.session?.end().catch(() => undefined);
    await this.stop();
  }

  /** Ends the app as a power cut would: no chance to write anything more. */
  async kill() {
    process.kill(this.pid, "SIGKILL");
    await until(() => !alive(this.pid), 10, () => "the app outlived SIGKILL");
    await this.stop();
  }

  /** Ends the driver, and waits until the app is gone too, since it holds the home's lock while it writes. */
  async stop() {
    this.driver.kill("SIGKILL");
    for (let i = 0; i < 100 && this.pid && alive(this.pid); i += 1) {
      if (i === 40) process.kill(this.pid, "SIGKILL");
      await pause(50);
    }
  }
}

const freePort = () =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });

const alive = (pid) => {
  try {
    return !/^State:\s+Z/m.test(readFileSync(`/proc/${pid}/status`, "utf8"));
  } catch {
    return false;
  }
};

/** The process below `parent` whose program has this name. */
const childNamed = (parent, name) => {
  for (const pid of readdirSync("/proc").filter((entry) => /^\d+$/.test(entry)).map(Number)) {
    try {
      const below = new RegExp(`^PPid:\\s+${parent}$`, "m").test(readFileSync(`/proc/${pid}/status`, "utf8"));
      if (below && readlinkSync(`/proc/${pid}/exe`).endsWith(`/${name}`)) return pid;
    } catch {
      // It ended while we looked.
    }
  }
  throw new Error(`no ${name} below process ${parent}`);
};
