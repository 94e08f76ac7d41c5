/** Where the reader is. Kept in the address, so that Back works and a reload comes back to the same place. */
export type Place =
  | { at: "day" }
  | { at: "piece"; piece: string }
  | { at: "step"; piece: string; kind: string }
  | { at: "mend"; piece: string; hash: string }
  | { at: "papers"; piece: string }
  | { at: "folder" }
  | { at: "shop" };

const read = (hash: string): Place => {
  const [at, piece, kind] = hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  if (at === "piece" && piece) return { at, piece };
  if (at === "step" && piece && kind) return { at, piece, kind };
  if (at === "mend" && piece && kind) return { at, piece, hash: kind };
  if (at === "papers" && piece) return { at, piece };
  if (at === "folder" || at === "shop") return { at };
  return { at: "day" };
};

let place = $state<Place>(read(location.hash));

addEventListener("hashchange", () => {
  place = read(location.hash);
});

/** The place shown now. */
export const here = (): Place => place;

/** The address of a place, for links. */
export const addressOf = (to: Place): string => {
  const parts = [to.at, "piece" in to ? to.piece : "", "kind" in to ? to.kind : "hash" in to ? to.hash : ""];
  return `#/${parts.filter(Boolean).map(encodeURIComponent).join("/")}`;
};

/** Goes to a place. */
export const go = (to: Place): void => {
  location.hash = addressOf(to);
};

/** The piece a place is about, if any. */
export const pieceOf = (at: Place): string | null => ("piece" in at ? at.piece : null);
