import { fileURLToPath } from "node:url"
import react from "@vitejs/plugin-react"
import { defineConfig } from "vite"
import { notices } from "./build/notices.ts"

export default defineConfig({
  root: fileURLToPath(new URL(".", import.meta.url)),
  base: "./",
  plugins: [react(), notices(fileURLToPath(new URL("..", import.meta.url)))],
  build: {
    outDir: fileURLToPath(new URL("../dist/renderer", import.meta.url)),
    emptyOutDir: true,
    target: "chrome140",
    modulePreload: { polyfill: false },
    // Everything comes from a file of our own: the policy allows no data in style sheets.
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 1200,
    // One bundle of all that is made with zod, begun by what tells zod not to compile: a bundle of pages that came before
    // it would have zod try.
    rolldownOptions: {
      output: {
        codeSplitting: { groups: [{ name: "contract", test: /[\\/]shared[\\/]|[\\/]zod[\\/]|jitless/ }] },
      },
    },
  },
})
