// Where things are, and the two sizes and themes everything is looked at in.
import { existsSync, mkdirSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const target = process.env.TROWELOGUE_TARGET ?? path.join(root, "target");

/** A path in the checkout. */
export const inCheckout = (...parts) => path.join(root, ...parts);
/** A path beside what cargo builds. */
export const inTarget = (...parts) => path.join(target, ...parts);
/** A program of the development build; says what to do when it was not built. */
export const program = (name) => {
  const place = path.join(process.env.TROWELOGUE_PROGRAMS ?? path.join(target, "debug"), name);
  if (!existsSync(place)) throw new Error(`${place} is not there; cargo xtask test builds it`);
  return place;
};
/** A folder that is there. */
export const folder = (place) => {
  mkdirSync(place, { recursive: true });
  return place;
};

/** A phone held upright, a tablet held upright, a desk. */
export const SIZES = {
  phone: { width: 390, height: 844 },
  tablet: { width: 820, height: 1180 },
  desk: { width: 1440, height: 900 },
};
export const THEMES = ["light", "dark"];
