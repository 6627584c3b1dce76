import { copyFileSync, mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";
import { defineConfig } from "vitest/config";

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

const FONTS = here("node_modules/source-sans");
const PAPER_FONTS = here("../src/rooftree/papers/fonts");

/** Papers and printed charts need the same family as the pages, but as TTF. */
function copyPaperFonts(): Plugin {
  return {
    name: "copy-paper-fonts",
    apply: "build",
    closeBundle() {
      mkdirSync(PAPER_FONTS, { recursive: true });
      for (const style of ["Regular", "It", "Semibold", "SemiboldIt"]) {
        const file = `SourceSans3-${style}.ttf`;
        copyFileSync(`${FONTS}/TTF/${file}`, `${PAPER_FONTS}/${file}`);
      }
      copyFileSync(`${FONTS}/LICENSE.md`, `${PAPER_FONTS}/LICENSE.md`);
    },
  };
}

// Names are fixed: the pages ask for app.js and app.css, and the server tells the
// browser to ask each time whether they changed.
export default defineConfig({
  base: "./",
  plugins: [copyPaperFonts()],
  build: {
    outDir: here("../src/rooftree/web/static/built"),
    emptyOutDir: true,
    target: "es2022",
    modulePreload: false,
    chunkSizeWarningLimit: 1200,
    rolldownOptions: {
      checks: { eval: false }, // htmx can evaluate attributes; app.ts and the content policy forbid it
      input: { app: here("src/app.ts") },
      output: {
        entryFileNames: "[name].js",
        chunkFileNames: "[name].js",
        assetFileNames: "[name][extname]",
      },
    },
  },
  test: { environment: "jsdom", include: ["tests/**/*.test.ts"] },
});
