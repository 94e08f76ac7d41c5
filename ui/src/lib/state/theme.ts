import type { Theme } from "../backend/types";

const dark = matchMedia("(prefers-color-scheme: dark)");
let chosen: Theme = "system";

const show = (): void => {
  document.documentElement.dataset.theme = chosen === "system" ? (dark.matches ? "dark" : "light") : chosen;
};

/** Shows light or dark as chosen, or as the device has it. */
export const applyTheme = (theme: Theme): void => {
  chosen = theme;
  show();
};

dark.addEventListener("change", show);
show();
