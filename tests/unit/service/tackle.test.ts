import { expect, test } from "vitest"
import { api, type Input, type Output } from "../../../shared/api.ts"
import { countDown } from "../../../shared/tackle.ts"
import { makeService } from "../../../core/service/service.ts"
import { add } from "../../../core/store/put.ts"
import { context } from "../exchange/importing.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { plainTrip } from "../store/plainTrip.ts"

function open() {
  const book = temporaryLogbook()
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  const list = async () => api["tackle.list"].output.parse(await service["tackle.list"]({}, context))
  return {
    book,
    service,
    list,
    keep: (input: Input<"tackle.keep">) =>
      service["tackle.keep"](api["tackle.keep"].input.parse(input), context),
    save: (input: Input<"tackle.save">) => service["tackle.save"](input, context),
    named: async (name: string): Promise<Output<"tackle.list">["presentations"][number]> => {
      const found = (await list()).presentations.find((one) => one.name === name)
      if (found === undefined) throw new Error(`no presentation ${name}`)
      return found
    },
  }
}
const problem = (call: Promise<unknown>): Promise<string> =>
  call.then(
    () => "no problem",
    (error: Error) => error.message,
  )

test("a presentation is made from a line, with a code and a mark of its own, and undone as one act", async () => {
  const { keep, list, service } = open()
  const kept = await keep({ line: "soft plastic, paddle tail, 1/4 oz, short shank, hop, dark" })
  const { presentations, classes, lures, rigs, retrieves } = await list()
  expect(presentations).toMatchObject([
    { name: "paddle tail, dark, 7.1 g, mid-column hop", code: "pt", mark: "p", stints: 0 },
  ])
  expect([classes.length, lures.length, rigs.length, retrieves.length]).toEqual([1, 1, 1, 1])
  await service["history.undo"]({ act: kept.act }, context)
  const after = await list()
  expect([after.presentations, after.lures, after.classes].map((rows) => rows.length)).toEqual([0, 0, 0])
})

test("the same line again shares lure, rig and retrieve, and says that it is there already", async () => {
  const { keep, list, service } = open()
  await keep({ line: "soft plastic, paddle tail, 1/4 oz, hop, dark" })
  const read = await service["tackle.read"](
    { line: "dark, hop, soft plastic, paddle tail, 7.087 g" },
    context,
  )
  expect(read.same?.name).toBe("paddle tail, dark, 7.1 g, mid-column hop")
  // copy and change: another tone shares rig and retrieve
  const copy = await keep({ line: "pt, natural" })
  expect(copy.name).toBe("paddle tail, natural, 7.1 g, mid-column hop")
  const { presentations, lures, rigs, retrieves } = await list()
  expect(new Set(presentations.map(({ code }) => code)).size).toBe(2)
  expect([lures.length, rigs.length, retrieves.length]).toEqual([2, 1, 1])
})

test("codes are unique among spots, presentations, species and anglers", async () => {
  const { book, keep, save, service, named } = open()
  const { spot } = await service["spots.save"]({ name: "Marsh drain", code: "md" }, context)
  expect(spot.code).toBe("md")
  book.change((change) => add(change, "species", { name: "red drum", code: "rd" }))
  const { name } = await keep({ line: "spoon, steady", code: "sp" })
  const { id } = await named(name)
  expect(await problem(save({ what: "presentation", id, code: "MD " }))).toMatch(
    /the code of the spot Marsh drain/,
  )
  expect(await problem(service["anglers.save"]({ name: "Rhea", code: "rd" }, context))).toMatch(/red drum/)
  expect(await problem(save({ what: "presentation", id, code: "a.b" }))).toMatch(/cannot be a code/)
  // its own code again is no conflict
  await save({ what: "presentation", id, code: "sp", mark: "o" })
  expect(await named(name)).toMatchObject({ code: "sp", mark: "o" })
})

test("retiring keeps history, code and mark, and can be taken back", async () => {
  const { keep, save, named } = open()
  const first = await keep({ line: "spoon, steady", mark: "s" })
  await save({ what: "presentation", id: first.id, retired: true })
  expect(await named(first.name)).toMatchObject({ code: "ss", mark: "s" })
  expect((await named(first.name)).retired_at).not.toBeNull()
  expect(await problem(keep({ line: "topwater popper", mark: "s" }))).toMatch(/is the mark of/)
  await save({ what: "presentation", id: first.id, retired: false })
  expect((await named(first.name)).retired_at).toBeNull()
})

test("an angler is kept by name and code, and named once", async () => {
  const { service } = open()
  const { id } = await service["anglers.save"]({ name: "Rhea", code: "rh" }, context)
  await service["anglers.save"]({ id, notes: "left-handed" }, context)
  expect(await service["anglers.list"]({}, context)).toEqual([
    { id, name: "Rhea", code: "rh", notes: "left-handed", stints: 0 },
  ])
  expect(await problem(service["anglers.save"]({ name: "rhea" }, context))).toMatch(/already/)
  expect(await problem(service["anglers.save"]({}, context))).toMatch(/needs a name/)
})

test("a sink is kept for the rig with the lure, counted down by measure, and forgotten", async () => {
  const { keep, save, named } = open()
  const dark = await keep({ line: "soft plastic, paddle tail, 1/4 oz, hop, dark" })
  const light = await keep({ line: "soft plastic, paddle tail, 1/4 oz, hop, light" })
  await save({ what: "sink", presentation: dark.id, seconds: 4, depth_m: 2 })
  expect((await named(dark.name)).sink).toMatchObject({ seconds: 4, depth_m: 2 })
  // the same rig with another lure was not measured, so nothing is said of it
  expect((await named(light.name)).sink).toBeNull()
  expect(countDown((await named(dark.name)).sink, 3)).toBe(6)
  expect(countDown(null, 3)).toBeNull()
  await save({ what: "sink", presentation: dark.id, seconds: null, depth_m: null })
  expect((await named(dark.name)).sink).toBeNull()
})

test("lures lost this season are counted by lure; not counted is not none", async () => {
  const { book, keep, save, list } = open()
  const spoon = await keep({ line: "spoon, steady" })
  await keep({ line: "topwater walker" })
  book.change((change) => {
    const trip = (date: string) => add(change, "trip", { ...plainTrip, date, zone: "UTC", status: "closed" })
    const stint = (trip_id: string, lures_lost: number) => {
      const stop_id = add(change, "stop", { trip_id, ordinal: 0 })
      add(change, "stint", { stop_id, ordinal: 0, rods: 1, presentation_id: spoon.id, lures_lost })
    }
    stint(trip("2024-05-01"), 5)
    stint(trip("2025-05-01"), 2)
    stint(trip("2025-06-01"), 1)
  })
  const lure = (await list()).lures.find(({ parts }) => parts.lure_class === "spoon")
  await save({ what: "lure", id: lure?.id ?? "", price: 6 })
  const { season, lures } = await list()
  expect(season).toBe(2025)
  expect(lures.map(({ parts, lost, price }) => [parts.lure_class, lost, price])).toEqual([
    ["spoon", 3, 6],
    ["topwater walker", null, null],
  ])
})

test("an unclear line keeps nothing", async () => {
  const { keep, list } = open()
  expect(await problem(keep({ line: "spoon, flurble" }))).toMatch(/flurble is not known/)
  expect(await problem(keep({ line: " , " }))).toMatch(/Say what it is made of/)
  expect((await list()).presentations).toEqual([])
})

test("a rig is changed part by part in the reader's units, refused where it cannot be, and undone by its words", async () => {
  const { keep, service, list } = open()
  await keep({ line: "soft plastic, paddle tail, 1/4 oz, short shank, hop, dark" })
  await keep({ line: "pt, natural" })
  const pieces = async () => api["pieces.list"].output.parse(await service["pieces.list"]({}, context))
  const [rig] = (await pieces()).rig
  expect(rig?.presentations.length).toBe(2)
  const save = (part: "head_weight_g" | "hook_shank" | "name" | "pace", text: string) =>
    service["pieces.save"]({ what: "rig", id: rig?.id ?? "", part, text }, context)
  // 3/8 oz is 10.631 g: 1 oz is 28.349523125 g, NIST SP 811
  expect((await save("head_weight_g", "3/8 oz")).said).toBe("rig changed: head weight 3/8 oz")
  expect((await list()).presentations.map(({ parts }) => parts.head_weight_g?.toFixed(3))).toEqual([
    "10.631",
    "10.631",
  ])
  await save("hook_shank", "")
  await save("name", "river head")
  expect((await pieces()).rig[0]).toMatchObject({ name: "river head", words: "10.6 g head" })
  expect(await problem(save("head_weight_g", "heavy"))).toMatch(/^Head weight: not a number: heavy/)
  expect(await problem(save("hook_shank", "curly"))).toBe('Hook shank: "curly" is none of short, long.')
  expect(await problem(save("pace", "slow"))).toBe("A rig has no pace.")
  const undone = await service["history.undo_last"]({}, context)
  expect(undone.said).toBe("rig changed: name river head")
})

test("a retrieve that would become the same as another is refused; one is retired with its presentations and brought back", async () => {
  const { keep, service, list } = open()
  await keep({ line: "soft plastic, paddle tail, 1/4 oz, hop, 2x3" })
  await keep({ line: "soft plastic, paddle tail, 1/4 oz, hop, 2x5" })
  const { retrieve } = await service["pieces.list"]({}, context)
  const [three] = retrieve
  const what = { what: "retrieve" as const, id: three?.id ?? "" }
  const other = three?.fields.find(({ part }) => part === "pause_s")?.text === "3 s" ? "5" : "3"
  expect(await problem(service["pieces.save"]({ ...what, part: "pause_s", text: other }, context))).toMatch(
    /^There is another retrieve of exactly these parts already/,
  )
  expect((await service["pieces.retire"]({ ...what, retired: true }, context)).said).toBe(
    "retrieve retired with 1 presentation",
  )
  const retired = async () =>
    (await list()).presentations.filter(({ retired_at }) => retired_at !== null).length
  expect(await retired()).toBe(1)
  expect((await service["pieces.list"]({}, context)).retrieve.map((one) => one.retired)).toContain(true)
  expect(await problem(service["pieces.retire"]({ ...what, retired: true }, context))).toBe(
    "No presentation of this retrieve is there to be retired.",
  )
  await service["pieces.retire"]({ ...what, retired: false }, context)
  expect(await retired()).toBe(0)
})
