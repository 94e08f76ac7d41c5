import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

// The page is served from inside the app; nothing is fetched, so no polyfill and no inlined assets
// (a data: address would need a wider content policy).
export default defineConfig({
  plugins: [svelte()],
  clearScreen: false,
  server: { port: 1420, strictPort: true, host: "127.0.0.1" },
  build: { target: "safari16", modulePreload: { polyfill: false }, assetsInlineLimit: 0, sourcemap: false },
});
