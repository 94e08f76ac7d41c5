import { asApiError } from "../backend/backend";
import type { ApiError } from "../backend/types";

/** What a screen shows: the last good answer stays while a newer one is on its way. */
export interface Loaded<T> {
  readonly value: T | null;
  readonly error: ApiError | null;
  /** Shows an answer that came with another call. */
  set(value: T): void;
}

/** Runs `ask` now and whenever something it read changed. An answer that was overtaken is dropped. */
export const load = <T>(ask: () => Promise<T>): Loaded<T> => {
  let value = $state.raw<T | null>(null);
  let error = $state.raw<ApiError | null>(null);
  let turn = 0;
  $effect(() => {
    const mine = ++turn;
    ask().then(
      (answer) => {
        if (mine !== turn) return;
        value = answer;
        error = null;
      },
      (thrown: unknown) => {
        if (mine === turn) error = asApiError(thrown);
      },
    );
  });
  return {
    get value() {
      return value;
    },
    get error() {
      return error;
    },
    set(next) {
      turn += 1;
      value = next;
    },
  };
};
