import { svelte } from "@sveltejs/vite-plugin-svelte";
import { VitePWA } from "vite-plugin-pwa";
import { defineConfig } from "vitest/config";

export default defineConfig({
  plugins: [
    svelte(),
    VitePWA({
      // The page registers the worker itself: an inline script would not pass its policy.
      injectRegister: null,
      registerType: "prompt",
      manifest: {
        name: "oddment",
        short_name: "oddment",
        description: "Weigh the signs on a piece of period furniture.",
        lang: "en",
        start_url: "/",
        display: "standalone",
        background_color: "#fffdf8",
        theme_color: "#fffdf8",
        icons: [
          { src: "/icon.svg", sizes: "any", type: "image/svg+xml" },
          { src: "/icon-192.png", sizes: "192x192", type: "image/png" },
          { src: "/icon-512.png", sizes: "512x512", type: "image/png", purpose: "any maskable" },
        ],
      },
      workbox: {
        globPatterns: ["**/*.{html,js,css,svg,png,wasm,webmanifest}"],
        maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
        cleanupOutdatedCaches: true,
        navigateFallback: "/index.html",
      },
    }),
  ],
  worker: { format: "es" },
  // The engine finds its module beside its own script.
  optimizeDeps: { exclude: ["oddment"] },
  // The module stays a file: an inlined one would pass no policy.
  build: { target: "es2022", assetsInlineLimit: 0 },
  // Components are tested in a real browser; here is only what needs none.
  test: { include: ["tests/unit/**/*.test.ts"], environment: "node" },
});
