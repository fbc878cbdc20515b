import { spawn } from "node:child_process"
import { createInterface } from "node:readline"
import { join } from "node:path"
import { expect, test } from "vitest"
import { checkFile } from "../../core/store/check.ts"
import { createLogbook, openLogbook } from "../../core/store/open.ts"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"

const root = join(import.meta.dirname, "../..")

/** Runs a program that prints a line after each commit, and kills it the hard way after some lines. */
async function killAfter(lines: number, program: string): Promise<string[]> {
  const child = spawn(process.execPath, ["--input-type=module-typescript", "-e", program], {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
  })
  const printed: string[] = []
  for await (const line of createInterface({ input: child.stdout })) {
    printed.push(line)
    if (printed.length >= lines) child.kill("SIGKILL")
  }
  return printed
}

test.each([1, 3, 8, 21, 55])("keeps every acknowledged row when killed after %i commits", async (lines) => {
  const { db, file } = createLogbook(join(temporaryFolder(), "a.stintbook"))
  db.close()
  const acknowledged = await killAfter(
    lines,
    `import { Logbook } from "./core/store/logbook.ts"
     import { openLogbook } from "./core/store/open.ts"
     import { add } from "./core/store/put.ts"
     const book = new Logbook(await openLogbook(${JSON.stringify(file)}))
     for (let i = 0; ; i++) {
       const id = book.change((change) => add(change, "angler", { name: "angler " + i }))
       process.stdout.write(id + "\\n")
     }`,
  )
  const open = await openLogbook(file)
  expect(checkFile(open.db)).toEqual([])
  const kept = open.db.prepare("SELECT id FROM angler").pluck().all()
  expect(kept).toEqual(expect.arrayContaining(acknowledged))
  expect(acknowledged.length).toBeGreaterThanOrEqual(lines)
  const recorded = open.db.prepare("SELECT count(*) FROM change").pluck().get()
  expect(recorded).toBe(kept.length)
  open.db.close()
})

test("an import killed half way leaves nothing behind", async () => {
  const { db, file } = createLogbook(join(temporaryFolder(), "a.stintbook"))
  db.close()
  await killAfter(
    1,
    `import { beginChange, add } from "./core/store/put.ts"
     import { openLogbook } from "./core/store/open.ts"
     const { db } = await openLogbook(${JSON.stringify(file)})
     db.exec("BEGIN IMMEDIATE")
     const change = beginChange(db)
     for (let i = 0; i < 5000; i++) add(change, "angler", { name: "angler " + i })
     process.stdout.write("written\\n")
     setInterval(() => {}, 1000)`,
  )
  const open = await openLogbook(file)
  expect(checkFile(open.db)).toEqual([])
  expect(open.db.prepare("SELECT count(*) FROM angler").pluck().get()).toBe(0)
  expect(open.db.prepare("SELECT count(*) FROM change").pluck().get()).toBe(0)
  open.db.close()
})
