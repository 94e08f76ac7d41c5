import { Channel, invoke } from "@tauri-apps/api/core";
import { type Backend, overCommands } from "./backend";
import type { Changed } from "./types";

/** The one place that knows Tauri. */
export const tauriBackend = (): Backend =>
  overCommands(
    (command, args) => invoke(command, args),
    (changed) => {
      const channel = new Channel<Changed>();
      channel.onmessage = changed;
      return invoke("watch", { channel });
    },
  );
