import { expect, test } from "vitest"
import { answerThreads } from "../../../core/answerThreads.ts"
import { makeService } from "../../../core/service/service.ts"
import { context, importTables } from "../exchange/importing.ts"
import { askOf } from "../questions/factsOf.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

function openService() {
  const book = temporaryLogbook()
  return { book, service: makeService(book, answerThreads(), () => undefined) }
}

/** Trips of two stints, a jig and a spoon, an hour each, with so many fish. */
const days = (from: number, fish: readonly (readonly [number, number])[]): string =>
  [
    "trip,date,hours,lure class,landed",
    ...fish.flatMap(([jig, spoon], i) => {
      const day = `2025-05-${String(from + i).padStart(2, "0")}`
      return [`${day},${day},1,jig,${jig}`, `${day},${day},1,spoon,${spoon}`]
    }),
  ].join("\n")

const rates = askOf({ outcome: "landed_rate", by: "lure_class" })

test("a question is kept, asked again as the record grows, and told against its last answer", async () => {
  const { book, service } = openService()
  await importTables(book, {
    "a.csv": days(1, [
      [2, 1],
      [3, 1],
      [1, 2],
      [2, 2],
      [4, 1],
    ]),
  })
  const { id } = await service["questions.keep"]({ name: "jig or spoon", ask: rates }, context)
  expect(await service["questions.saved"]({}, context)).toMatchObject([
    { id, name: "jig or spoon", note: null, answers: [], grown: true },
  ])

  const first = await service["questions.rerun"]({ id }, context)
  expect(first.since).toBeNull()
  expect(first.question.grown).toBe(false)
  expect(first.question.answers[0]).toMatchObject({ trips: 5, rod_hours: 10 })
  // 7 fish of 5 hours over 12 of 5, read the other way
  const lead = first.question.answers[0]?.lead
  expect(lead?.ratio === null || lead === null || lead === undefined ? null : lead.ratio).toBeCloseTo(
    7 / 12,
    6,
  )

  await importTables(book, {
    "b.csv": days(11, [
      [1, 3],
      [2, 4],
      [0, 3],
    ]),
  })
  expect((await service["questions.saved"]({}, context))[0]?.grown).toBe(true)
  const second = await service["questions.rerun"]({ id }, context)
  expect(second.since).toMatch(
    /^Since \w+ \d+, \d{4}, 3 trips and 6\.0 rod-hours more: spoon over jig was 0\.58 \(/,
  )
  expect(second.question.answers).toHaveLength(2)
  expect(second.question.answers[1]).toEqual(first.question.answers[0])

  await service["history.undo"]({ act: second.act }, context)
  expect((await service["questions.saved"]({}, context))[0]?.answers).toHaveLength(1)
})

test("names are one question's each; a note is kept and forgotten; a forgotten question is gone until undone", async () => {
  const { service } = openService()
  const { id } = await service["questions.keep"]({ name: "jig or spoon", ask: rates }, context)
  const keep = (wanted: Parameters<(typeof service)["questions.keep"]>[0]) =>
    service["questions.keep"](wanted, context)
  await expect(keep({ name: "jig or spoon", ask: rates })).rejects.toThrow(/is kept already/)
  await expect(keep({ ask: rates })).rejects.toThrow(/needs a name/)
  await expect(keep({ id: "gone", name: "other" })).rejects.toThrow(/not kept any more/)
  await keep({ id, note: "thrown in spring only" })
  expect((await service["questions.saved"]({}, context))[0]).toMatchObject({
    name: "jig or spoon",
    note: "thrown in spring only",
    ask: rates,
  })
  await keep({ id, note: "" })
  expect((await service["questions.saved"]({}, context))[0]?.note).toBeNull()
  const { act } = await service["questions.forget"]({ id }, context)
  expect(await service["questions.saved"]({}, context)).toEqual([])
  await expect(service["questions.rerun"]({ id }, context)).rejects.toThrow(/not kept any more/)
  await service["history.undo"]({ act }, context)
  expect(await service["questions.saved"]({}, context)).toHaveLength(1)
})

test("a refusal and a look through everything are answers to keep too", async () => {
  const { service } = openService()
  const everything = await service["questions.keep"](
    { name: "all", ask: askOf({ outcome: "landed_rate", by: "all" }) },
    context,
  )
  const one = await service["questions.keep"]({ name: "one", ask: rates }, context)
  for (const { id } of [everything, one]) {
    const { question } = await service["questions.rerun"]({ id }, context)
    expect(question.answers[0]?.sentence).not.toBe("")
    expect(question.answers[0]?.lead).toBeNull()
  }
})
