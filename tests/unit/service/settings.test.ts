import { expect, test } from "vitest"
import { answerThreads } from "../../../core/answerThreads.ts"
import { makeService } from "../../../core/service/service.ts"
import { add } from "../../../core/store/put.ts"
import { settingOf } from "../../../core/store/read/names.ts"
import { type Answer, isComparison, type Told } from "../../../shared/answer.ts"
import { api, type BookHandlers } from "../../../shared/api.ts"
import { presets, ReaderUnits } from "../../../shared/readerUnits.ts"
import type { Ask } from "../../../shared/questions.ts"
import { context, importTables } from "../exchange/importing.ts"
import { askOf, factsOf, overTrips } from "../questions/factsOf.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

/** A new logbook with its service; answers come from the real second thread. */
function openService() {
  const book = temporaryLogbook()
  return { book, service: makeService(book, answerThreads(), () => undefined) }
}
const read = (service: BookHandlers) => service["settings.read"]({}, context)

test("a new logbook is read in metric units and has no home zone", async () => {
  const { service } = openService()
  expect(await read(service)).toEqual({ units: presets.metric, home_zone: null })
})

test("what is saved stands, and what is not named stays as it was", async () => {
  const { book, service } = openService()
  const saved = await service["settings.save"]({ units: presets.us }, context)
  expect(saved).toMatchObject({ units: presets.us, home_zone: null })
  await service["settings.save"]({ home_zone: "america/new_york" }, context)
  expect(await read(service)).toEqual({ units: presets.us, home_zone: "America/New_York" })
  expect(ReaderUnits.parse(JSON.parse(settingOf(book.db, "units") ?? ""))).toEqual(presets.us)
  await service["settings.save"]({ home_zone: null }, context)
  expect(await read(service)).toEqual({ units: presets.us, home_zone: null })
})

test("an import reads clock times in the home zone that was saved", async () => {
  const { book, service } = openService()
  await service["settings.save"]({ home_zone: "Asia/Tokyo" }, context)
  const done = await importTables(book, { "a.csv": "date,start,end,landed\n2024-05-11,06:00,08:00,1" })
  expect(JSON.stringify(done.assumptions)).toContain("Asia/Tokyo")
})

test("every change can be undone, the undoing too, until a later one stands on it", async () => {
  const { service } = openService()
  const undo = (act: string | null) => service["history.undo"]({ act: act ?? "" }, context)
  const first = await service["settings.save"]({ home_zone: "Asia/Tokyo", units: presets.us }, context)
  const second = await service["settings.save"]({ home_zone: "UTC" }, context)
  const undone = await undo(second.act)
  expect((await read(service)).home_zone).toBe("Asia/Tokyo")
  await undo(undone.act)
  expect((await read(service)).home_zone).toBe("UTC")
  await expect(undo(first.act)).rejects.toThrow(/changed again later/)
})

test("the first choice undone leaves none, and a zone forgotten and chosen anew keeps its history in one row", async () => {
  const { service } = openService()
  const undo = (act: string | null) => service["history.undo"]({ act: act ?? "" }, context)
  const first = await service["settings.save"]({ home_zone: "Asia/Tokyo" }, context)
  await undo(first.act)
  expect((await read(service)).home_zone).toBeNull()
  await service["settings.save"]({ home_zone: "UTC" }, context)
  const forgotten = await service["settings.save"]({ home_zone: null }, context)
  await service["settings.save"]({ home_zone: "Asia/Tokyo" }, context)
  await expect(undo(forgotten.act)).rejects.toThrow(/changed again later/)
  expect((await read(service)).home_zone).toBe("Asia/Tokyo")
})

test("saving what stands already is no act", async () => {
  const { service } = openService()
  expect((await service["settings.save"]({ units: presets.metric }, context)).act).not.toBeNull()
  expect((await service["settings.save"]({ units: presets.metric, home_zone: null }, context)).act).toBeNull()
  expect((await service["settings.save"]({}, context)).act).toBeNull()
})

test("an unknown zone is refused by a sentence, and nothing of the same change is kept", async () => {
  const { service } = openService()
  for (const home_zone of ["Atlantis/Centre", "+02:00", ""])
    await expect(service["settings.save"]({ units: presets.us, home_zone }, context)).rejects.toMatchObject({
      problem: {
        code: "unknown_zone",
        message: `There is no time zone "${home_zone}". Write its IANA name, such as America/New_York.`,
      },
    })
  expect(await read(service)).toEqual({ units: presets.metric, home_zone: null })
})

test("an unknown unit is refused by a sentence that names it and what there is", () => {
  const parsed = api["settings.save"].input.safeParse({ units: { depth: "cubit" } })
  expect(parsed.error?.issues.map(({ message }) => message)).toEqual([
    '"cubit" is no unit that depth can be shown in. Choose one of m, ft.',
  ])
})

test("units of a newer version leave the logbook readable, in metric", async () => {
  const { book, service } = openService()
  book.change((open) => add(open, "setting", { key: "units", value: '{"depth":"cubit"}' }))
  expect((await read(service)).units).toEqual(presets.metric)
})

const table = ["trip,date,start,end,water_temp_c,landed"]
  .concat(
    Array.from({ length: 16 }, (_, i) => {
      const day = `2024-05-${String(1 + i).padStart(2, "0")}`
      return `${day},${day},06:00,08:00,${i % 2 === 0 ? 10 : 20},${i % 2 === 0 ? 1 : 2 + (i % 3)}`
    }),
  )
  .join("\n")
const texts = ({ sentence, cautions }: Answer): string =>
  [sentence, ...cautions.map(({ text }) => text)].join("\n")

test("an answer is told in the units of the call, else of the logbook, and found in none", async () => {
  const { book, service } = openService()
  await importTables(book, { "a.csv": table })
  const ask = async (units?: ReaderUnits): Promise<Answer> => {
    const asked = askOf({ outcome: "landed_rate", by: "water_temp_c" })
    const answer = await service["questions.ask"](units === undefined ? asked : { ...asked, units }, context)
    if (!isComparison(answer)) throw new Error("a comparison was asked for")
    return answer
  }
  const metric = await ask()
  expect(metric.sentence).toMatch(/18-<24 °C against <12 °C/)
  const us = await ask(presets.us)
  expect(us.sentence).toMatch(/64-<75 °F against <54 °F/)
  expect(texts(us)).not.toContain("°C")
  expect(us.cautions.some(({ text }) => text.includes("64-<75 °F"))).toBe(true)
  await service["settings.save"]({ units: presets.us }, context)
  expect(await ask()).toEqual(us)
  expect(await ask(presets.metric)).toEqual(metric)
  const numbers = (answer: Answer) => ({ ...answer, sentence: "", ratios_of: null, cautions: [] })
  expect(numbers(us)).toEqual(numbers(metric))
})

test("questions under way in one thread are each told in their own units, also when another is cancelled", async () => {
  const at = (water_temp_c: number) =>
    overTrips(`at ${water_temp_c}`, 8, (i) => ({ fish: 1 + (i % 3), factors: { water_temp_c } }))
  const facts = factsOf([...at(10), ...at(20)])
  const answer = answerThreads()
  const comparison = askOf({ outcome: "landed_rate", by: "water_temp_c" })
  const controller = new AbortController()
  const { signal } = context
  const given = answer(facts, askOf({ outcome: "landed_rate", by: "all" }), presets.metric, {
    signal: controller.signal,
    progress: () => undefined,
  })
  const kept = [presets.us, presets.metric].map((reader) =>
    answer(facts, comparison, reader, { signal, progress: () => undefined }),
  )
  controller.abort(new Error("no longer wanted"))
  await expect(given).rejects.toThrow("no longer wanted")
  const [us, metric] = await Promise.all(kept)
  expect(sentencesOf(us)).toMatch(/64-<75 °F/)
  expect(sentencesOf(metric)).toMatch(/18-<24 °C/)
  const looked = await answer(facts, askOf({ outcome: "landed_rate", by: "all" }), presets.us, {
    signal,
    progress: () => undefined,
  })
  expect(sentencesOf(looked)).toMatch(/64-<75 °F/)
})

test("an answer as fished waits for no fit, nor for the thread that was ended with a cancelled one", async () => {
  const levels = ["a", "b", "c"]
  const facts = factsOf(
    overTrips("trip", 600, (i) => ({
      fish: i % 4,
      factors: {
        lure_class: levels[i % 3] ?? "",
        light: i % 2 === 0 ? "day" : "night",
        water_temp_c: 10 + (i % 17),
        pause_s: i % 7,
      },
    })),
  )
  const answer = answerThreads()
  const { signal } = context
  const told: string[] = []
  const asked = (name: string, ask: Partial<Ask>, by: AbortSignal = signal) =>
    answer(facts, askOf({ outcome: "landed_rate", by: "lure_class", ...ask }), presets.metric, {
      signal: by,
      progress: () => undefined,
    }).finally(() => told.push(name))
  const controller = new AbortController()
  const ended = asked("cancelled", { by: "all" }, controller.signal)
  const fit = asked("fit", { by: "all" })
  controller.abort(new Error("no longer wanted"))
  await expect(ended).rejects.toThrow("no longer wanted")
  const [raw] = await Promise.all([asked("as fished", { basis: "raw" }), fit])
  expect(told).toEqual(["cancelled", "as fished", "fit"])
  expect(sentencesOf(raw)).toMatch(/per rod-hour/)
})

const sentencesOf = (answer: Told | undefined): string => {
  if (answer === undefined) return ""
  return "looked_at" in answer ? answer.factors.map(({ sentence }) => sentence).join(" ") : answer.sentence
}
