import type { Backend } from "./backend";
import { tauriBackend } from "./tauri";

declare global {
  /** Set by browser tests before the page loads; never set in the app. */
  var trowelogueTestBackend: Backend | undefined;
}

/** The backend of this page. */
export const backend: Backend = globalThis.trowelogueTestBackend ?? tauriBackend();
