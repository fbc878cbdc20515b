// What must be said beside predictions and plans: the topics and numbers of 13-cautions.json, whose entries name their
// sources. Size, bag and season: the product judges no fish, it only keeps the user's own note (schema of `species`).
import { expect, test } from "vitest"
import { z } from "zod"
import { planCautions, watersCautions } from "../../core/conditions/cautions.ts"
import { skyCases } from "./skyCases.ts"

const numbers = z.object({
  id: z.string(),
  expected: z.looseObject({
    topics: z.array(z.string()),
    numbers: z.object({ minutes: z.number() }).optional(),
    threshold_to_show_c: z.array(z.number()).optional(),
  }),
})
const cases = skyCases("13-cautions", "caution-topic", numbers)
const expectedOf = (id: string) => {
  const found = cases.find((one) => one.id === id)
  if (found === undefined) throw new Error(`no case ${id}`)
  return found.expected
}
const textOf = (cautions: readonly { code: string; text: string }[], code: string): string =>
  cautions.find((caution) => caution.code === code)?.text ?? ""

test("tides are predictions, not for navigation, and wind, pressure, rivers and surge are left out", () => {
  expect(expectedOf("caution-tides").topics).toHaveLength(4)
  const here = watersCautions({ tide: true, current: false, interpolated: true })
  const first = textOf(here, "predicted_not_observed")
  for (const word of [
    "predictions, not observations",
    "not for navigation",
    "Wind",
    "pressure",
    "river",
    "surge",
  ])
    expect(first).toContain(word)
  expect(textOf(here, "interpolated")).toMatch(/high and low water.*only.*interpolated/)
  expect(textOf(here, "height_is_not_current")).toMatch(/proxy.*current and height turn at different times/)
  const codes = (of: Parameters<typeof watersCautions>[0]) => watersCautions(of).map(({ code }) => code)
  expect(codes({ tide: true, current: true, interpolated: false })).toEqual(["predicted_not_observed"])
  expect(codes({ tide: false, current: false, interpolated: false })).toEqual([])
})

test("a plan is read with lightning, the forecast and cold water in mind", () => {
  const { numbers: lightning } = expectedOf("caution-lightning")
  expect(textOf(planCautions, "lightning")).toContain(`${lightning?.minutes} minutes after the last`)
  expect(textOf(planCautions, "lightning")).toMatch(/go in at once.*open boat is no shelter/)
  expect(expectedOf("caution-forecast").topics.join()).toMatch(/marine forecast and radar.*float plan/)
  expect(textOf(planCautions, "forecast")).toMatch(
    /no network.*marine forecast and radar.*tell someone where you go/,
  )
  const cold = textOf(planCautions, "cold_water")
  for (const limit of expectedOf("caution-cold-water").threshold_to_show_c ?? [])
    expect(cold).toContain(`${limit} °C`)
  expect(cold).toMatch(/1 minute .* 10 minutes .* 1 hour .* life jacket/)
})
