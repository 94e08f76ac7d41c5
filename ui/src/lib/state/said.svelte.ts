/** What was just done, said until the next thing is done. */
export interface Said {
  text: string;
  /** The entry that can be taken back. */
  hash?: string;
  piece?: string;
  /** The step's name, for the question why. */
  step?: string;
}

let now = $state<Said | null>(null);

/** The last thing said. */
export const said = (): Said | null => now;

/** Says something; `null` clears it. */
export const say = (what: Said | null): void => {
  now = what;
};
