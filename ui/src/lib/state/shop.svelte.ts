import { backend } from "../backend";
import { asApiError } from "../backend/backend";
import type { ApiError, Settings, Start } from "../backend/types";
import { keepDay } from "./ahead";
import { applyTheme } from "./theme";
import { loadWords } from "./words.svelte";

let start = $state<Start | null>(null);
let trouble = $state<ApiError | null>(null);
let generation = $state(0);
/** How often an answer was taken: a slower one that was asked for before says nothing new. */
let taken = 0;

/** The open shop and this device's standing in it; `null` until the first answer. */
export const shop = (): Start | null => start;

/** Why the app could not start, if it could not. */
export const startTrouble = (): ApiError | null => trouble;

/** Grows whenever the shop's record changed; screens read it to know when to ask again. */
export const changes = (): number => generation;

/** Takes the answer of a command that opened, founded or joined a shop. */
export const take = async (next: Start): Promise<void> => {
  taken += 1;
  applyTheme(next.settings.theme);
  await loadWords(next.settings.lang);
  taken += 1;
  start = next;
  generation += 1;
};

/** Keeps settings and shows everything again in the new language and units. */
export const keepSettings = async (settings: Settings): Promise<void> => {
  taken += 1;
  const kept = await backend.setSettings(settings);
  if (start) await take({ ...start, settings: kept });
};

/** An owner may have accepted this device, or given it another role, since the start. */
const lookAgain = async (): Promise<void> => {
  const asked = taken;
  try {
    const now = await backend.start();
    if (asked !== taken) return;
    now.day = null;
    if (JSON.stringify(now) !== JSON.stringify(start)) start = now;
  } catch {
    // The next change asks again; the folder's page says what is wrong.
  }
};

/** Starts: words, settings, shop, then listens for changes. */
export const begin = async (): Promise<void> => {
  try {
    // The words of this device are asked for together with the shop.
    const [first] = await Promise.all([backend.start(), loadWords(null)]);
    keepDay(first.day);
    await take({ ...first, day: null });
    await backend.watch(() => {
      generation += 1;
      void lookAgain();
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
