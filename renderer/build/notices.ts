import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import type { Plugin } from "vite"
import { z } from "zod"

const Lock = z.object({
  packages: z.record(
    z.string(),
    z.object({
      version: z.string().optional(),
      license: z.string().optional(),
      dev: z.boolean().optional(),
      optional: z.boolean().optional(),
      devOptional: z.boolean().optional(),
    }),
  ),
})

/** A package that ships with the product, its licence by name and in its own words. */
export type Notice = {
  readonly name: string
  readonly version: string
  readonly licence: string
  readonly text: string
}

/** Every package that ships, by the lock file of the repository at `root`, with the licence files found in it. */
export function noticesOf(root: string): Notice[] {
  const { packages } = Lock.parse(JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")))
  return Object.entries(packages)
    .filter(([path, { dev, optional, devOptional }]) => path !== "" && !dev && !optional && !devOptional)
    .map(([path, { version = "", license = "not named" }]) => ({
      name: path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length),
      version,
      licence: license,
      text: wordsIn(join(root, path)),
    }))
    .toSorted((a, b) => a.name.localeCompare(b.name))
}

const wordsIn = (folder: string): string =>
  readdirSync(folder)
    .filter((name) => /^(?:licen[cs]e|copying|notice)/i.test(name))
    .map((name) => readFileSync(join(folder, name), "utf8").trim())
    .join("\n\n")

const address = "virtual:notices"

/** Lets the page import the notices of `root` as `virtual:notices`, in a bundle of its own. */
export const notices = (root: string): Plugin => ({
  name: "notices",
  resolveId: (id) => (id === address ? `\0${address}` : null),
  load: (id) => (id === `\0${address}` ? `export default ${JSON.stringify(noticesOf(root))}` : null),
})
