import { backend } from "../backend";
import type { Lang, Words } from "../backend/types";

let current = $state<Words>({ lang: "en", words: {} });
let plurals = new Intl.PluralRules("en");

/** Loads the words of a language, or of the home's own. */
export const loadWords = async (lang: Lang | null): Promise<void> => {
  if (lang === current.lang && Object.keys(current.words).length > 0) return;
  current = await backend.words(lang);
  plurals = new Intl.PluralRules(current.lang);
  document.documentElement.lang = current.lang;
};

/** The word for a key; `{name}` in it is filled in. */
export const t = (key: string, fill: Record<string, string | number> = {}): string => {
  const pattern = current.words[key] ?? key;
  return pattern.replace(/\{(\w+)\}/g, (whole, name: string) => String(fill[name] ?? whole));
};

/** A number as a person of this language writes it, with no more decimals than it has. */
export const numeral = (value: number, decimals: number): string =>
  value.toLocaleString(current.lang, { useGrouping: false, maximumFractionDigits: decimals });

/** A counted word: `key.one` or `key.other`, with `{n}` filled in. */
export const tn = (key: string, n: number): string => t(`${key}.${plurals.select(n) === "one" ? "one" : "other"}`, { n });
