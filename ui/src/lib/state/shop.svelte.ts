import { backend } from "../backend";
import { asApiError } from "../backend/backend";
import type { ApiError, Settings, Start } from "../backend/types";
import { applyTheme } from "./theme";
import { loadWords } from "./words.svelte";

let start = $state<Start | null>(null);
let trouble = $state<ApiError | null>(null);
let generation = $state(0);

/** The open shop and this device's standing in it; `null` until the first answer. */
export const shop = (): Start | null => start;

/** Why the app could not start, if it could not. */
export const startTrouble = (): ApiError | null => trouble;

/** Grows whenever the shop's record changed; screens read it to know when to ask again. */
export const changes = (): number => generation;

/** Takes the answer of a command that opened, founded or joined a shop. */
export const take = async (next: Start): Promise<void> => {
  applyTheme(next.settings.theme);
  await loadWords(next.settings.lang);
  start = next;
  generation += 1;
};

/** Keeps settings and shows everything again in the new language and units. */
export const keepSettings = async (settings: Settings): Promise<void> => {
  const kept = await backend.setSettings(settings);
  if (start) await take({ ...start, settings: kept });
};

/** Starts: words, settings, shop, then listens for changes. */
export const begin = async (): Promise<void> => {
  try {
    await take(await backend.start());
    await backend.watch(() => {
      generation += 1;
    });
  } catch (thrown) {
    trouble = asApiError(thrown);
  }
};

/** Asks for a look at the folder whenever the app comes back to the front. A look that fails is shown on the folder's page. */
export const sweepOnReturn = (): void => {
  const sweep = () => {
    if (document.visibilityState === "visible" && start?.shop) backend.sweep().catch(() => undefined);
  };
  document.addEventListener("visibilitychange", sweep);
  addEventListener("focus", sweep);
};
