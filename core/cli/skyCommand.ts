import { Temporal } from "temporal-polyfill"
import { presets } from "../../shared/readerUnits.ts"
import { SkyAsk } from "../../shared/sky.ts"
import { tellSky } from "../conditions/skyTold.ts"
import { stationsWith } from "../conditions/stations/stations.ts"
import { parseOptions, sentences, type Values } from "./arguments.ts"
import type { Command } from "./command.ts"
import { placeOption } from "./placeOption.ts"
import { skyText } from "./skyText.ts"
import { readUnits } from "./readUnits.ts"
import { UsageError } from "./usage.ts"

const number = { type: "string" } as const

/** `conditions`: what sun, moon, tide and current do at a place and time. No logbook is needed. */
export const skyCommand: Command = async (args) => {
  const values = parseOptions(args, {
    lat: number,
    lon: number,
    at: { type: "string" },
    station: { type: "string" },
    until: { type: "string" },
    every: number,
    units: { type: "string" },
  })
  const { at, until } = values
  if (typeof at !== "string")
    throw new UsageError("conditions wants --at, such as --at 2026-05-15T10:10:00Z.")
  const ask = SkyAsk.safeParse({
    place: placeOption({ lat: values["lat"], lon: values["lon"] }),
    station: values["station"],
    at: instantOf("--at", at),
    until: typeof until === "string" ? instantOf("--until", until) : undefined,
    every_min: values["every"] === undefined ? undefined : stepOf(values["every"]),
  })
  if (!ask.success) throw new UsageError(sentences(ask.error.issues))
  const told = tellSky(ask.data, stationsWith([]), Date.now())
  const units = readUnits(values["units"]) ?? presets.metric
  const [first] = told.told
  return { json: typeof until === "string" ? told.told : first, text: (width) => skyText(told, units, width) }
}

/** An instant from ISO 8601 with an offset or Z; a clock time alone would be this machine's, so it is refused. */
function instantOf(flag: string, text: string): number {
  try {
    return Temporal.Instant.from(text).epochMilliseconds
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    throw new UsageError(
      `${flag} "${text}" is not an instant: write date, time and offset, such as 2026-05-15T06:10:00-04:00.`,
    )
  }
}

function stepOf(text: Values[string]): number {
  const minutes = Number(text)
  if (minutes > 0 && Number.isFinite(minutes)) return minutes
  throw new UsageError(`--every "${String(text)}" is not a number of minutes above 0.`)
}
