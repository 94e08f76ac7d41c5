import type { JsonValue } from "../backend/types";

/** Values a form is opened with from elsewhere: a place touched on the plan of a piece. */
interface Pending {
  piece: string;
  kind: string;
  values: Record<string, JsonValue>;
}

let waiting: Pending | null = null;

/** Leaves values for the next form of this kind on this piece. */
export const leaveValues = (values: Pending): void => {
  waiting = values;
};

/** Takes the values left for this form; nobody else gets them. */
export const takeValues = (piece: string, kind: string): Record<string, JsonValue> => {
  const mine = waiting && waiting.piece === piece && waiting.kind === kind ? waiting.values : {};
  waiting = null;
  return mine;
};
