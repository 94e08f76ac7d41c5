/** A row's place in a long list, for the row to show and to tell a screen reader. */
export interface Spot {
  /** From 0. */
  at: number;
  /** How many there are in all. */
  of: number;
  /** Distance from the top of the list, in px. */
  top: number;
}

/** Heights of the rows of a list: as measured, and until then as tall as those measured are in the mean. */
export class Heights {
  #measured: (number | undefined)[];
  #tops: Float64Array | null = null;
  #sum = 0;
  #known = 0;

  /** `guess` is the height of a row while none was measured, in px. */
  constructor(
    readonly count: number,
    readonly guess: number,
  ) {
    this.#measured = new Array(count);
  }

  /** Notes the height of a row; false where it was known. */
  set(at: number, height: number): boolean {
    const before = this.#measured[at];
    if (at >= this.count || before === height) return false;
    this.#sum += height - (before ?? 0);
    this.#known += before === undefined ? 1 : 0;
    this.#measured[at] = height;
    this.#tops = null;
    return true;
  }

  /** Distance of a row from the top; of the row after the last, the height of the whole list. */
  top(at: number): number {
    return this.#all()[Math.min(Math.max(at, 0), this.count)] ?? 0;
  }

  /** The row that covers this distance from the top. */
  at(distance: number): number {
    const tops = this.#all();
    let [low, high] = [0, Math.max(this.count - 1, 0)];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((tops[middle] ?? 0) <= distance) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  #all(): Float64Array {
    if (this.#tops) return this.#tops;
    const mean = this.#known > 0 ? this.#sum / this.#known : this.guess;
    const tops = new Float64Array(this.count + 1);
    for (let at = 0; at < this.count; at += 1) tops[at + 1] = (tops[at] ?? 0) + (this.#measured[at] ?? mean);
    this.#tops = tops;
    return tops;
  }
}
