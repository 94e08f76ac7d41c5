let skew = 0;
let tick = $state(Date.now());

setInterval(() => {
  tick = Date.now();
}, 1000);

/** Sets this page's clock by the moment an answer from Rust was made. */
export const setClock = (ms: number): void => {
  skew = ms - Date.now();
  tick = Date.now();
};

/** Now, in milliseconds since 1970, by Rust's clock; moves once a second. */
export const nowMs = (): number => tick + skew;
