import type { PlanFrame } from "../backend/types";

/** A place as it stands in a form: from the left, from the front and, where it is known, its size. */
export interface PlaceOnPlan {
  x: number;
  y: number;
  size: number | null;
}

const figure = (text: string | undefined): number | null => {
  const value = Number((text ?? "").trim().replace(",", "."));
  return text?.trim() && Number.isFinite(value) ? value : null;
};

/** A line of a form as a place; `null` where it is none. */
export const placeOf = (line: string): PlaceOnPlan | null => {
  const [x, y, size] = line.split(";").map(figure);
  return typeof x === "number" && typeof y === "number" ? { x, y, size: size ?? null } : null;
};

/** A place as a line of a form. */
export const lineOf = ({ x, y, size }: PlaceOnPlan, decimals: number): string =>
  [x, y, ...(size === null ? [] : [size])].map((value) => value.toFixed(decimals)).join("; ");

/** Where a place lies on the drawing. */
export const onDrawing = ({ x, y }: PlaceOnPlan, frame: PlanFrame): [number, number] => [frame.left + x * frame.scale, frame.front - y * frame.scale];

/** The place under a point of the drawing, held to the plan. */
export const fromDrawing = ([left, top]: [number, number], frame: PlanFrame): PlaceOnPlan => {
  const held = (value: number, most: number) => Math.min(most, Math.max(0, value));
  return { x: held((left - frame.left) / frame.scale, frame.length), y: held((frame.front - top) / frame.scale, frame.width), size: null };
};
