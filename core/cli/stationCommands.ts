import { OwnStation, type StationSeen } from "../../shared/places.ts"
import { stationsNear } from "../conditions/stations/fit.ts"
import { stationFile } from "../conditions/stations/stationFile.ts"
import { stationsWith } from "../conditions/stations/stations.ts"
import { parse, parseOptions, sentences, type Values } from "./arguments.ts"
import type { Command } from "./command.ts"
import { namedBytes } from "./files.ts"
import { placeOption } from "./placeOption.ts"
import { wrapText } from "./textTable.ts"
import { UsageError } from "./usage.ts"
import { withBook } from "./withBook.ts"

const text = { type: "string" } as const
const place = { lat: text, lon: text, at: text } as const
const listedAtOnce = 5

/** Commands about tide and current stations. */
export const stationCommands: Readonly<Record<string, Command>> = {
  stations: async (args) => {
    const values = parseOptions(args, place)
    const where = placeOption(values)
    if (where === null)
      throw new UsageError('stations wants a place: --lat and --lon, or --at "31 23.4 N 81 17.3 W".')
    const near = stationsNear(where, listedAtOnce, stationsWith([]))
    const { source, through, date, licence } = stationFile().header
    return {
      json: near,
      text: (width) =>
        [
          "Tide stations nearby; which one stands for the place is yours to say.",
          ...near.tide.flatMap((station) => stationLine(station, width)),
          "Current stations nearby.",
          ...near.current.flatMap((station) => stationLine(station, width)),
          ...wrapText(
            `From: ${source}, ${licence}, through ${through} of ${date}. Distances see no land between.`,
            width,
          ),
        ].join("\n"),
    }
  },

  station: async (args, context) => {
    const { file, rest, values } = parse(args, ["FILE", "NAME"], {
      ...place,
      source: text,
      constants: text,
      datum: text,
      mean: text,
      range: text,
      reference: text,
      high: text,
      low: text,
    })
    const where = placeOption(values)
    const station = OwnStation.safeParse({
      name: rest[0],
      ...where,
      source: values["source"],
      prediction: predictionOf(values),
    })
    if (!station.success) throw new UsageError(`A station of your own: ${sentences(station.error.issues)}`)
    return withBook(file, context, async (_, service) => {
      const saved = await service["stations.save"](station.data, context)
      return {
        json: saved,
        text: (width) =>
          [
            `Keeps the station ${station.data.name} as ${saved.id}. Undo: undo FILE ${saved.act}`,
            ...saved.cautions.flatMap((caution) => wrapText(`! ${caution.text}`, width)),
            ...wrapText("Compare a day of it with what you see before you rely on it.", width),
          ].join("\n"),
      }
    })
  },
}

const stationLine = ({ id, name, word }: StationSeen, width: number): string[] =>
  wrapText(`${name} (${id}): ${word}`, width - 2).map((line) => `  ${line}`)

const numberIn = (value: Values[string]): number | undefined =>
  typeof value === "string" && value.trim() !== "" ? Number(value) : undefined

/** Constants in a file, or `--high` and `--low` as minutes, ratio and metres against `--reference`: "44,1.03" or "44". */
function predictionOf(values: Values): unknown {
  const { constants, reference } = values
  if (typeof constants === "string")
    return {
      how: "tide constants",
      file: namedBytes(constants),
      datum: values["datum"],
      mean_m: numberIn(values["mean"]),
      great_diurnal_range_m: numberIn(values["range"]),
    }
  if (typeof reference === "string")
    return { how: "tide offsets", reference, high: offsetOf(values["high"]), low: offsetOf(values["low"]) }
  throw new UsageError(
    "Give --constants FILE with --datum and --mean, or --reference ID with --high and --low.",
  )
}

function offsetOf(value: Values[string]): unknown {
  if (typeof value !== "string") return undefined
  const [minutes, ratio, plus] = value.split(",").map(Number)
  return { minutes, ratio, plus_m: plus }
}
