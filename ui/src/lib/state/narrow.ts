/** What the day is narrowed to. */
export interface Narrow {
  person: string | null;
  job: string | null;
  place: string | null;
}
