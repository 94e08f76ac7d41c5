import { nowMs } from "./clock.svelte";

/** How long one touch takes back what was just written. */
export const UNDO_MS = 20_000;

/** What was just done, said until the next thing is done. */
export interface Said {
  text: string;
  /** The entry that can be taken back. */
  hash?: string;
}

let now = $state<(Said & { at: number }) | null>(null);

/** The last thing said, and when. */
export const said = (): (Said & { at: number }) | null => now;

/** Says something; `null` clears it. */
export const say = (what: Said | null): void => {
  now = what && { ...what, at: nowMs() };
};
