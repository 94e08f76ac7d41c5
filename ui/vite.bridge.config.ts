import { defineConfig } from "vite";

// Test only: the bridge as one plain script, for tests to inject into the page.
export default defineConfig({
  build: {
    target: "safari16",
    outDir: "../target/test-bridge",
    emptyOutDir: true,
    lib: { entry: "src/lib/backend/bridge.ts", formats: ["iife"], name: "trowelogueBridge", fileName: () => "bridge.js" },
  },
});
