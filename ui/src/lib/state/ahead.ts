// The first day comes with the shop: a start waits for one answer, not for three in turn.
import { backend } from "../backend";
import type { Day, DayAsk } from "../backend/types";

let first: Day | null = null;

/** Keeps the day that came with the start, for the screen that shows it. */
export const keepDay = (day: Day | null): void => {
  first = day;
};

/** The day that came with the start, once; else what is asked for. */
export const dayOf = async (ask: DayAsk): Promise<Day> => {
  const kept = first;
  first = null;
  const whole = Object.values(ask).every((it) => it === null);
  return kept && whole ? kept : backend.day(ask);
};
