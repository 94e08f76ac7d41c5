import type { PieceClock } from "../backend/types";

let running = $state.raw<PieceClock[]>([]);
let refused = $state<string | null>(null);

/** The clocks that run, as they were asked for last. */
export const clocks = (): PieceClock[] => running;

/** Takes the clocks that run now. */
export const setClocks = (now: PieceClock[]): void => {
  running = now;
};

/** Why the system shows no notices, where it was asked to and did not. */
export const noticesRefused = (): string | null => refused;

/** Keeps why the system shows no notices. */
export const setNoticesRefused = (why: string | null): void => {
  refused = why;
};
