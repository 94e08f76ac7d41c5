import { defineConfig } from "vite";

// Test only: the way to Rust over loopback, or a backend that answers from memory (`--mode fixture`), as one plain
// script that a test puts into the page. The app's own bundle contains neither.
export default defineConfig(({ mode }) => {
  const [entry, name] = mode === "fixture" ? ["journeys/fixture/backend.ts", "fixture"] : ["src/lib/backend/bridge.ts", "bridge"];
  return {
    build: {
      target: "safari16",
      outDir: `${process.env.TROWELOGUE_TARGET ?? "../target"}/test-bridge`,
      emptyOutDir: false,
      lib: { entry, formats: ["iife"], name: `trowelogue${name}`, fileName: () => `${name}.js` },
    },
  };
});
