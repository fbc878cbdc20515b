import { readdirSync, readFileSync } from "node:fs"
import { dirname, join, relative, resolve } from "node:path"
import { expect, test } from "vitest"

const root = resolve(import.meta.dirname, "../..")

/** What each folder may import, by path from the root or by package name; the longest folder that fits a file rules. */
const allowed: Readonly<Record<string, readonly RegExp[]>> = {
  shared: [/^shared\//, /^zod$/],
  renderer: [
    /^renderer\//,
    /^shared\//,
    /^(react|react-dom|react-aria-components|vega|vega-lite|vega-interpreter|zod)(\/|$)/,
    /^virtual:notices$/,
  ],
  // the build's settings, not part of the page
  "renderer/build": [/^node:(fs|path)$/, /^(vite|zod)$/],
  "renderer/vite.config.ts": [
    /^(node:url|vite|@vitejs\/plugin-react)$/,
    /^(renderer|dist\/renderer|renderer\/build\/notices\.ts)\/?$/,
    /^$/,
  ],
  "core/stats": [/^core\/stats\//, /^(cephes|simple-statistics)$/, /^(pure-rand\/|node:crypto$)/],
  "core/conditions": [
    /^core\/conditions\//,
    /^shared\//,
    /^node:/,
    /^(suncalc|temporal-polyfill|zod|@photostructure\/tz-lookup|csv-parse\/sync)$/,
  ],
  "core/conditions/stations/extract": [
    /^core\/conditions\//,
    /^node:/,
    /^zod$/,
    // a development dependency: the extract is what ships
    /^@neaps\/tide-database$/,
  ],
  "core/conditions/coast/extract": [/^core\/conditions\//, /^node:/, /^zod$/],
  "core/demo": [
    /^core\/(demo|store|conditions)\//,
    /^core\/stats\/random\.ts$/,
    /^shared\//,
    /^(pure-rand\/|temporal-polyfill$)/,
  ],
  "core/questions": [/^core\/(questions|stats)\//, /^core\/facts\.ts$/, /^shared\//],
  "core/store": [
    /^core\/store\//,
    /^core\/conditions\/carry\.ts$/,
    /^core\/facts\.ts$/,
    /^shared\//,
    /^migrations/,
    /^node:/,
    /^(better-sqlite3|uuid|zod)$/,
  ],
  "core/exchange": [
    /^core\/(exchange|store)\//,
    /^core\/conditions\/place\.ts$/,
    /^shared\//,
    /^node:/,
    /^(csv-parse|csv-stringify|read-excel-file|write-excel-file|saxes|simplify-js|temporal-polyfill|zod)/,
  ],
  // what a cell of a table may say, a token may say too
  "core/tape": [
    /^core\/(tape|conditions|exchange\/read)\//,
    /^core\/codes\.ts$/,
    /^shared\//,
    /^temporal-polyfill$/,
  ],
  "core/day": [/^core\/(day|tape|store|stats)\//, /^shared\//, /^(zod|temporal-polyfill)$/],
  "core/find": [/^core\/(find|tape|store)\//, /^shared\//],
  "core/tackle": [/^core\/tackle\//, /^shared\//],
  "core/trips": [/^core\/(trips|conditions)\//, /^shared\//],
  "core/service": [
    /^core\/(service|exchange|store|conditions|questions|demo|tackle|trips|tape|day|find|stats)\//,
    /^core\/(facts|codes)\.ts$/,
    /^shared\//,
    /^node:/,
    /^zod$/,
  ],
  core: [/^core\//, /^shared\//, /^node:/, /^(zod|temporal-polyfill)$/],
  electron: [/^electron/, /^(zod|ws|@electron\/get)$/, /^core\//, /^shared\//, /^node:/],
}

const sourceFiles = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|mjs)$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))

const importForms = [
  /\bfrom\s+["']([^"']+)["']/g,
  /\bimport\s+["']([^"']+)["']/g,
  /\bimport\(\s*["']([^"']+)["']/g,
  /new URL\(\s*["']([^"']+)["']\s*,\s*import\.meta\.url/g,
]

/** Every import of a source text as written. */
const importsIn = (source: string): string[] =>
  importForms.flatMap((form) => [...source.matchAll(form)].flatMap((match) => match[1] ?? []))

/** The imports of a file that its folder may not have. */
function forbidden(file: string, source: string): string[] {
  const folder = Object.keys(allowed)
    .filter((name) => file === name || file.startsWith(`${name}/`))
    .toSorted((a, b) => b.length - a.length)[0]
  const rules = folder === undefined ? [] : (allowed[folder] ?? [])
  return importsIn(source)
    .map((name) =>
      name.startsWith(".") ? relative(root, resolve(root, dirname(file), name)).replaceAll("\\", "/") : name,
    )
    .filter((target) => !rules.some((rule) => rule.test(target)))
    .map((target) => `${file} imports ${target}`)
}

test("every file imports only what its folder may know", () => {
  const files = ["shared", "renderer", "core", "electron"].flatMap(sourceFiles)
  expect(files.length).toBeGreaterThan(30)
  expect(files.flatMap((file) => forbidden(file, readFileSync(join(root, file), "utf8")))).toEqual([])
})

test("a wrong import in any form is noticed", () => {
  const wrong = `
    import { openLogbook } from "../store/open.ts"
    import "node:fs"
    export { put } from "../store/put.ts"
    const late = await import("../service/service.ts")
    const worker = new URL("../worker.ts", import.meta.url)`
  expect(forbidden("core/stats/glm.ts", wrong)).toHaveLength(5)
})

test("the statistics know nothing of fishing", () => {
  const words = /\b\w*(fish|lure|angler|stint|strike|trip|tide|rod_?hour|catch_|landed|logbook)\w*/gi
  const found = sourceFiles("core/stats").flatMap((file) =>
    [...readFileSync(join(root, file), "utf8").matchAll(words)]
      .map((match) => match[0].toLowerCase())
      .filter((word) => !/^(strip|triple|description|stripped|fisher\w*|\w*failures?)$/.test(word))
      .map((word) => `${file}: ${word}`),
  )
  expect(found).toEqual([])
})
