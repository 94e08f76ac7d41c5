import { type Backend, overCommands } from "./backend";
import type { Changed } from "./types";

// Test only: talks to the loopback bridge (src-tauri/tests/bridge.rs) from a plain browser. It is bundled on its own
// (vite.bridge.config.ts) and put into the page by the test; the app's bundle does not contain it.

const post = async (path: string, body: unknown): Promise<unknown> => {
  const reply = await fetch(path, { method: "POST", body: JSON.stringify(body) });
  const value: unknown = await reply.json();
  if (!reply.ok) throw value;
  return value;
};

const watch: Backend["watch"] = async (changed) => {
  let generation = 0;
  const ask = async (): Promise<void> => {
    const what = (await post("/changed", { after: generation })) as Changed | null;
    if (what) {
      generation = what.generation;
      changed(what);
    }
    setTimeout(() => void ask().catch(() => undefined), 50);
  };
  void ask().catch(() => undefined);
};

globalThis.trowelogueTestBackend = overCommands((command, args) => post(`/ipc/${command}`, args ?? {}) as Promise<never>, watch);
