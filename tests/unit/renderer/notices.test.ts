import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { noticesOf } from "../../../renderer/build/notices.ts"

const root = join(import.meta.dirname, "../../..")
const { dependencies } = z
  .object({ dependencies: z.record(z.string(), z.string()) })
  .parse(JSON.parse(readFileSync(join(root, "package.json"), "utf8")))

test("every package that ships is named with its version, its licence and that licence's words", () => {
  const notices = noticesOf(root)
  for (const [name, version] of Object.entries(dependencies))
    expect(notices.find((notice) => notice.name === name)).toMatchObject({ version })
  expect(notices.map(({ name }) => name)).not.toContain("vitest")
  const react = notices.find(({ name }) => name === "react")
  expect(react?.licence).toBe("MIT")
  expect(react?.text).toContain("Permission is hereby granted")
  expect(notices.find(({ name }) => name.includes("source-serif"))?.text).toContain("SIL OPEN FONT LICENSE")
  // Three packages bring no file with their licence.
  expect(notices.filter(({ text }) => text === "").map(({ name }) => name)).toEqual([
    "client-only",
    "saxes",
    "worker-f",
  ])
})
