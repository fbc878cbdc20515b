import { expect, test } from "vitest"
import { factsBeyond, factsWith } from "../../../core/factsBeyond.ts"
import { oneAtATime } from "../../../core/service/queue.ts"
import { rememberedFacts } from "../../../core/service/rememberedFacts.ts"
import { readFacts } from "../../../core/store/readFacts.ts"
import { factorIds } from "../../../shared/factors.ts"
import { importTables } from "../exchange/importing.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

const tables = (day: number) => ({
  [`${day}.csv`]: [
    "date,hours,landed,lure_class,pause_s",
    `2024-05-0${day},1,1,spoon,2`,
    `2024-05-0${day},2,0,topwater walker,4`,
  ].join("\n"),
})

test("factors asked for later are read to the facts already there, and all anew after a change", async () => {
  const book = temporaryLogbook()
  await importTables(book, tables(1))
  const factsFor = rememberedFacts(book, oneAtATime())
  const first = await factsFor(["lure_class"])
  const second = await factsFor(["pause_s"])
  expect(second.trip).toBe(first.trip)
  expect(second.factors.lure_class).toBe(first.factors.lure_class)
  expect(second.factors.pause_s).toEqual({ kind: "number", values: Float64Array.of(2, 4) })
  expect(await factsFor(["pause_s", "lure_class"])).toBe(second)
  await importTables(book, tables(2))
  const third = await factsFor(["pause_s"])
  expect(third.stints).toBe(4)
  expect(Object.keys(third.factors)).toEqual(["pause_s"])
})

test("who knows facts is told only the factors read since; facts of another reading are told whole", async () => {
  const book = temporaryLogbook()
  await importTables(book, tables(1))
  const factsFor = rememberedFacts(book, oneAtATime())
  const first = await factsFor(["lure_class"])
  const second = await factsFor(["pause_s"])
  const told = factsBeyond(null, first)
  expect(told).toEqual({ all: first })
  const more = factsBeyond(first, second)
  expect(more).toEqual({ all: null, factors: { pause_s: second.factors.pause_s } })
  expect(factsWith(structuredClone(first), structuredClone(more))).toEqual(second)
  expect(factsBeyond(second, second)).toEqual({ all: null, factors: {} })
  expect(factsBeyond(second, structuredClone(second))).toHaveProperty("all.stints", 2)
  expect(() => factsWith(null, more)).toThrow("without the facts")
})

test("while many factors are read others have their turn, and what they change is in all columns", async () => {
  const book = temporaryLogbook()
  await importTables(book, tables(1))
  const queue = oneAtATime()
  const factsFor = rememberedFacts(book, queue)
  const done: string[] = []
  const reading = factsFor(factorIds).then((facts) => {
    done.push("read")
    return facts
  })
  // Queued while the first portion is read: another day comes in between two of them.
  const saving = queue(async () => {
    await importTables(book, tables(2))
    done.push("saved")
  })
  await saving
  const facts = await reading
  expect(done).toEqual(["saved", "read"])
  expect(facts.stints).toBe(4)
  expect(facts).toEqual(book.read((db) => readFacts(db, factorIds, book.version())))
})

test("reading ends even where something is saved between any two portions", async () => {
  const book = temporaryLogbook()
  await importTables(book, tables(1))
  const queue = oneAtATime()
  let reading = true
  const saves = async (): Promise<void> => {
    for (let day = 2; reading; day++) await queue(async () => importTables(book, tables(day)))
  }
  const saving = saves()
  const facts = await rememberedFacts(book, queue)(factorIds)
  reading = false
  await saving
  expect(Object.keys(facts.factors).toSorted()).toEqual([...factorIds].toSorted())
  expect(facts.stints).toBe(
    facts.factors.lure_class?.kind === "level" ? facts.factors.lure_class.codes.length : -1,
  )
})
