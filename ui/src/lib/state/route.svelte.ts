/** Where the reader is. Kept in the address, so that Back works and a reload comes back to the same place. */
export type Place =
  | { at: "day" }
  | { at: "piece"; piece: string }
  | { at: "step"; piece: string; kind: string }
  | { at: "mend"; piece: string; hash: string }
  | { at: "papers"; piece: string }
  | { at: "folder" }
  | { at: "beside" }
  | { at: "shop" }
  | { at: "shelf"; shelf: string }
  | { at: "make"; shelf: string }
  | { at: "object"; shelf: string; object: string }
  | { at: "change"; shelf: string; object: string }
  | { at: "copy"; shelf: string; object: string }
  | { at: "right"; shelf: string; object: string; hash: string };

const read = (hash: string): Place => {
  const [at, one, two, three] = hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  if (at === "piece" && one) return { at, piece: one };
  if (at === "step" && one && two) return { at, piece: one, kind: two };
  if (at === "mend" && one && two) return { at, piece: one, hash: two };
  if (at === "papers" && one) return { at, piece: one };
  if (at === "folder" || at === "shop" || at === "beside") return { at };
  if ((at === "shelf" || at === "make") && one) return { at, shelf: one };
  if ((at === "object" || at === "change" || at === "copy") && one && two) return { at, shelf: one, object: two };
  if (at === "right" && one && two && three) return { at, shelf: one, object: two, hash: three };
  return { at: "day" };
};

let place = $state<Place>(read(location.hash));

addEventListener("hashchange", () => {
  place = read(location.hash);
});

/** The place shown now. */
export const here = (): Place => place;

const PARTS = ["at", "piece", "shelf", "object", "kind", "hash"];

/** The address of a place, for links. */
export const addressOf = (to: Place): string => {
  const parts = PARTS.flatMap((part) => (part in to ? [String(to[part as keyof Place])] : []));
  return `#/${parts.map(encodeURIComponent).join("/")}`;
};

/** Goes to a place. */
export const go = (to: Place): void => {
  location.hash = addressOf(to);
};

/** Goes back to where the reader came from, or to `otherwise` where there is no such place. */
export const goBack = (otherwise: Place): void => {
  if (history.length > 1) history.back();
  else go(otherwise);
};

/** The piece a place is about, if any. */
export const pieceOf = (at: Place): string | null => ("piece" in at ? at.piece : null);

/** The shelf a place is about, if any. */
export const shelfOf = (at: Place): string | null => ("shelf" in at ? at.shelf : null);
