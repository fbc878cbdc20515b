import { z } from "zod"
import { readCaseFile } from "./case.ts"

/** The shape of a place in the cases of sun and moon. */
export const place = { lat: z.number(), lon: z.number() }

/** The cases of one kind in tests/reference/cases/conditions/<file>.json, each parsed. */
export const skyCases = <S extends z.ZodType>(file: string, kind: string, schema: S): z.infer<S>[] =>
  z
    .array(z.object({ kind: z.string() }).loose())
    .parse(JSON.parse(readCaseFile(`conditions/${file}.json`)))
    .filter((one) => one.kind === kind)
    .map((one) => schema.parse(one))

/** A case of a local civil day, with the instants of these names: null where the almanac has none. */
export const localDayCase = <K extends string>(names: readonly K[]) =>
  z.object({
    id: z.string(),
    inputs: z.object({ ...place, iana_zone: z.string(), local_date: z.string() }),
    expected: z.looseRecord(z.enum(names), z.iso.datetime().nullable()),
    tolerance: z.object({ minutes: z.number(), transit_minutes: z.number().optional() }),
  })

/** A case of the Naval Observatory's day at Greenwich, times to the minute. */
export const greenwichDayCase = z.object({
  id: z.string(),
  inputs: z.object({ ...place, utc_date: z.string() }),
  expected: z.object({
    utc_hhmm: z.partialRecord(
      z.enum([
        "sunrise",
        "sunset",
        "civil_dawn",
        "civil_dusk",
        "transit",
        "Rise",
        "Set",
        "Upper Transit",
        "Lower Transit",
      ]),
      z.string(),
    ),
    usno_remarks: z.array(z.string()).default([]),
    illuminated_percent_usno: z
      .string()
      .transform((text) => Number(text.replace("%", "")))
      .optional(),
  }),
  tolerance: z.object({ minutes: z.number(), percent: z.number().optional() }),
})

/** A year table of the Naval Observatory: local standard times to the minute, null where a day has none. */
export const yearTableCase = z.object({
  inputs: z.object({ ...place, iana_zone: z.string(), utc_offset_min: z.number() }),
  expected: z.object({
    rows: z.array(z.object({ date: z.string(), rise: z.string().nullable(), set: z.string().nullable() })),
  }),
  tolerance: z.object({ minutes: z.number() }),
})

/** The instant (UTC ms) of a clock time, `0743` or `07:43`, on a date, at an offset from UTC in minutes; null for none. */
export const clockTime = (date: string, time: string | null | undefined, offsetMin = 0): number | null =>
  time === null || time === undefined
    ? null
    : Date.parse(`${date}T${time.slice(0, 2)}:${time.slice(-2)}Z`) - offsetMin * 60_000

/** Minutes between two instants: 0 where both are null, infinite where one is. */
export function minutesApart(a: number | null, b: number | null): number {
  if (a === null || b === null) return a === b ? 0 : Infinity
  return Math.abs(a - b) / 60_000
}
