// Bundles what the Electron window runs into dist/electron: its main process, its preload script, and the core's threads.
import { dirname, relative } from "node:path"
import { defineConfig, type RolldownOptions } from "rolldown"

const root = import.meta.dirname
const output = `${root}/dist/electron`

/**
 * The core finds its SQL, migrations and stations beside its source, which ships with it: addresses relative to a module
 * are made relative to the bundle. A thread's program is the bundle of the same name.
 */
const keepAddresses = {
  name: "keep-addresses",
  transform(code: string, id: string): string | null {
    if (!id.startsWith(`${root}/core/`) || !code.includes("import.meta.url")) return null
    return code.replace(
      /new URL\(\s*(["'`])(\.{1,2}\/[^"'`]*)\1\s*,\s*import\.meta\.url\s*\)/g,
      (_, quote: string, path: string) =>
        path.endsWith(".ts")
          ? `new URL("./${path.slice(path.lastIndexOf("/") + 1, -3)}.js", import.meta.url)`
          : `new URL(${quote}${relative(output, dirname(id)).replaceAll("\\", "/")}/${path}${quote}, import.meta.url)`,
    )
  },
}

const shared: RolldownOptions = {
  platform: "node",
  // its paths name type declarations, not programs
  tsconfig: false,
  external: [/^node:/, /^electron/, "better-sqlite3"],
  plugins: [keepAddresses],
}

const program = (input: string, file: string): RolldownOptions => ({
  ...shared,
  input,
  output: { file: `dist/electron/${file}`, format: "esm" },
})

export default defineConfig([
  program("electron/main.ts", "main.js"),
  program("core/worker.ts", "core.js"),
  program("core/fit.ts", "fit.js"),
  // a sandboxed preload script is one CommonJS file
  {
    ...shared,
    input: "electron/preload.ts",
    output: { file: "dist/electron/preload.cjs", format: "cjs" },
  },
])
