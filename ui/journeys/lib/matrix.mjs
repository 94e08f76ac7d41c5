// The looks every journey is walked in. By default one of each size, theme and language between them, so that the gate
// stays quick; `JOURNEY_ALL=1` walks all twelve.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { SIZES, THEMES } from "./places.mjs";

const LANGS = ["en", "es"];
const every = Object.keys(SIZES).flatMap((size) => THEMES.flatMap((theme) => LANGS.map((lang) => ({ size, theme, lang }))));
const some = [
  { size: "phone", theme: "light", lang: "es" },
  { size: "tablet", theme: "dark", lang: "en" },
  { size: "desk", theme: "dark", lang: "es" },
];

/** Size, theme and language of each walk. */
export const LOOKS = process.env.JOURNEY_ALL ? every : some;

/** The name of a look. */
export const nameOf = ({ size, theme, lang }) => `${size}, ${theme}, ${lang}`;

/** Sets theme and language of a home, as the settings page would; whatever else it keeps stays. */
export const dress = (home, { theme, lang }) => {
  const file = path.join(home, "settings.json");
  let kept = {};
  try {
    kept = JSON.parse(readFileSync(file, "utf8"));
  } catch {
    // A home that was never opened has no settings.
  }
  mkdirSync(home, { recursive: true });
  writeFileSync(file, JSON.stringify({ ...kept, theme, lang }));
};

/** What the page shows of a look. */
export const worn = (session) => session.run("return { theme: document.documentElement.dataset.theme, lang: document.documentElement.lang }");
