import { spawnSync } from "node:child_process"
import { closeSync, openSync, readdirSync, rmSync, writeFileSync, writeSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import type { Page } from "playwright-core"
import { expect, test, vi } from "vitest"
import { buildPage } from "../../electron/setup.mjs"
import { enter, mortalCore, startHost } from "../unit/electron/hosting.ts"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { openWindow, visit } from "./window.ts"

const head = "trip,date,start,end,lure class,landed,notes"
const oneTrip = `${head}\nA,2024-05-11,06:00,07:00,spoon,2,first\nA,2024-05-11,07:00,08:00,spoon,0,\n`
/** So many trips of one stint, each with a note of 200 letters. */
const many = (trips: number): string =>
  [
    head,
    ...Array.from({ length: trips }, (_, i) => {
      const date = new Date(Date.UTC(2010, 0, 1 + i)).toISOString().slice(0, 10)
      return `T${i},${date},06:00,08:00,spoon,1,${"x".repeat(200)}`
    }),
  ].join("\n")

/** Makes a logbook of one trip, by the window. */
async function beginLogbook(page: Page, name = "mine"): Promise<void> {
  await page.getByRole("button", { name: "New logbook" }).click()
  await page.getByRole("textbox", { name: "Name" }).fill(name)
  await page.getByRole("button", { name: "Make it" }).click()
  await page.getByText(`${name}.stintbook, saved`).waitFor()
  await bringIn(page, oneTrip)
  await page.getByText(/Added 2 stints on 1 trip/).waitFor()
}

/** Looks at a table on the page of files and says to bring it in. */
async function bringIn(page: Page, table: string): Promise<void> {
  await visit(page, "#/files")
  const file = { name: "days.csv", mimeType: "text/csv", buffer: Buffer.from(table) }
  await page.getByLabel("Tables, station files or tracks").setInputFiles(file)
  await page.getByRole("button", { name: "Bring it in" }).click()
}

async function expectTrips(page: Page, count: number): Promise<void> {
  await visit(page, "#/logbook")
  await page.getByText(count === 1 ? /^1 trip,/ : new RegExp(`^${count} trips,`)).waitFor()
}

test.skipIf(noBrowser)(
  "a host killed in the middle of an import: the window says so, and nothing saved is lost",
  async () => {
    const { link, host, folder, config } = await startProduct()
    const { page } = await openWindow(link)
    await beginLogbook(page)
    await bringIn(page, many(4000))
    await vi.waitFor(
      async () =>
        expect(Number(await page.getByRole("progressbar").getAttribute("aria-valuenow"))).toBeGreaterThan(10),
      { timeout: 40_000 },
    )
    host.kill("SIGKILL")
    await page.getByText("This window has lost its program").waitFor()
    await page.getByText("Everything that was saved is in the logbook's file.").waitFor()

    const again = await startProduct({ folder, config })
    const next = await openWindow(again.link)
    await next.page.getByText("mine.stintbook, saved").waitFor()
    await expectTrips(next.page, 1)
    const { client } = await enter((await startProduct({ folder, config })).link)
    expect(await client.call("logbook.check", {})).toEqual({ ok: true, findings: [] })
    expect(next.complaints).toEqual([])
  },
)

test.skipIf(noBrowser)(
  "a core that dies while it imports is started again: a sentence, and all that was saved",
  async () => {
    buildPage()
    const folder = temporaryFolder()
    const pages = join(import.meta.dirname, "../../dist/renderer")
    const host = await startHost({ folder, pages, program: mortalCore(folder, "when asked") })
    const { page, complaints } = await openWindow(host.newLink())
    await beginLogbook(page)
    await bringIn(page, many(4000))
    await page.getByRole("progressbar").waitFor()
    writeFileSync(join(folder, "die"), "")
    await page
      .getByText(/was started again\. Everything saved before is kept; do the last step again\./)
      .waitFor()
    await expectTrips(page, 1)
    await bringIn(page, many(20))
    await page.getByText(/Added 20 stints/).waitFor()
    await expectTrips(page, 21)
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)(
  "a logbook removed while it is open: the window says so, and where all of it is kept",
  async () => {
    const { link, folder } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await beginLogbook(page)
    rmSync(join(folder, "mine.stintbook"))
    const alert = page.getByRole("alert")
    await alert.getByText(/mine\.stintbook was moved, removed or replaced while it was open\./).waitFor()
    const rescued = /kept as (\S+\.stintbook);/.exec((await alert.textContent()) ?? "")?.[1] ?? ""
    await visit(page, "#/logbook")
    await page.getByRole("button", { name: rescued }).click()
    await expectTrips(page, 1)
    expect(complaints).toEqual([])
  },
)

const small = ["unshare", "-rm", "sh", "-c"]
const mounts = (folder: string): string => `mount -t tmpfs -o size=6m tmpfs '${folder}'`
const noSmallDisk =
  process.platform !== "linux" ||
  spawnSync(small[0] ?? "", [...small.slice(1), mounts(tmpdir())]).status !== 0
if (noSmallDisk)
  console.log("The test of a full disk is skipped: this user may not mount a small one of his own.")

test.skipIf(noBrowser || noSmallDisk)(
  "a full disk: an import is refused by a sentence, and what was there is there",
  async () => {
    const folder = temporaryFolder()
    const { link } = await startProduct({
      folder,
      through: [...small, `${mounts(folder)} && exec "$@"`, "sh"],
    })
    const { page, complaints } = await openWindow(link)
    await beginLogbook(page)
    await bringIn(page, many(6000))
    await page
      .getByRole("alert")
      .getByText(/There is no room left to write .*nothing was changed\./)
      .waitFor()
    await expectTrips(page, 1)
    await bringIn(page, many(3).replace("T0", "after"))
    await page.getByText(/Added 3 stints/).waitFor()
    await expectTrips(page, 4)
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)("two windows on one logbook see each other's work, and lose none of it", async () => {
  const { link, folder, config } = await startProduct()
  const one = await openWindow(link)
  await beginLogbook(one.page)
  const two = await openWindow((await startProduct({ folder, config })).link)
  await expectTrips(two.page, 1)
  await Promise.all([
    bringIn(one.page, many(30)),
    bringIn(
      two.page,
      many(50).replaceAll("T", "U").replaceAll("06:00", "12:00").replaceAll("08:00", "13:00"),
    ),
  ])
  await one.page.getByText(/Added 30 stints/).waitFor()
  await two.page.getByText(/Added 50 stints/).waitFor()
  await expectTrips(one.page, 81)
  await expectTrips(two.page, 81)
  // Another host on the same file, as by another user of this computer, may only read it, and says why.
  const other = await openWindow((await startProduct({ folder })).link)
  await other.page.getByRole("button", { name: "mine.stintbook" }).click()
  await other.page.getByText("mine.stintbook, to read only").waitFor()
  await expectTrips(other.page, 81)
  await visit(other.page, "#/files")
  await other.page.getByText(/is open in another window of Stintbook, so it can only be read here/).waitFor()
  for (const { complaints } of [one, two, other]) expect(complaints).toEqual([])
})

test.skipIf(noBrowser)("a damaged logbook is called so, and a backup takes its place", async () => {
  const first = await startProduct()
  const { page } = await openWindow(first.link)
  await beginLogbook(page)
  await page.getByRole("button", { name: "Back up now" }).click()
  await page.getByText("Backed up.").waitFor()
  first.host.kill("SIGTERM")
  expect(await first.ended).toBe(0)
  const { folder, config } = first
  const handle = openSync(join(folder, "mine.stintbook"), "r+")
  writeSync(handle, Buffer.alloc(3996, 0x5a), 0, 3996, 100) // all of its first page but the header
  closeSync(handle)

  const again = await openWindow((await startProduct({ folder, config })).link)
  await again.page
    .getByRole("alert")
    .getByText(/mine\.stintbook is damaged\./)
    .waitFor()
  const backups = again.page.getByRole("region", { name: "Backups", exact: true })
  await backups.getByRole("row").filter({ hasText: "by hand" }).getByRole("button").click()
  await expectTrips(again.page, 1)
  expect(readdirSync(folder).filter((name) => name.includes(".before-restore-"))).toHaveLength(1)
  expect(again.complaints).toEqual([])
})
