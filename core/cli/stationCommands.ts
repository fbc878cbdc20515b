import { OwnStation, type StationSeen } from "../../shared/places.ts"
import { coordinatesText } from "../conditions/coordinates.ts"
import type { Place } from "../conditions/place.ts"
import { doubtAbout, noneInReach, stationSeen, stationsNear } from "../conditions/stations/fit.ts"
import { stationFile } from "../conditions/stations/stationFile.ts"
import { stationsWith, type StationKind, type Stations } from "../conditions/stations/stations.ts"
import { stationsOf } from "../service/stationsOf.ts"
import { parse, parseWords, type Values } from "./arguments.ts"
import type { Command, Result } from "./command.ts"
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
  stations: async (args, context) => {
    const { words, values } = parseWords(args, { ...place, logbook: text })
    const where = placeOption(values)
    const { logbook } = values
    const stations =
      typeof logbook === "string"
        ? await withBook(logbook, context, async (book) => stationsOf(book))
        : stationsWith([])
    if (words.length > 0) return stationsNamed(words, where, stations)
    if (where === null)
      throw new UsageError(
        'stations wants a place (--lat and --lon, or --at "31 23.4 N 81 17.3 W"), or a station\'s name or id.',
      )
    const near = stationsNear(where, listedAtOnce, stations)
    const none = noneInReach(where, stations)
    const doubt = doubtAbout(where, stations)
    const { source, through, date, licence } = stationFile().header
    const lines = (kind: StationKind, width: number) =>
      near[kind].slice(0, none === null ? listedAtOnce : 1).flatMap((station) => stationLine(station, width))
    return {
      json: near,
      text: (width) =>
        [
          ...wrapText(
            none === null
              ? "Tide stations nearby; which one stands for the place is yours to say."
              : `${none} The nearest all the same:`,
            width,
          ),
          ...lines("tide", width),
          none === null ? "Current stations nearby." : "The nearest current station.",
          ...lines("current", width),
          ...(doubt === null ? [] : wrapText(`! ${doubt}`, width)),
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
    if (where === null)
      throw new UsageError('station wants its place: --lat and --lon, or --at "31 23.4 N 81 17.3 W".')
    if (typeof values["source"] !== "string")
      throw new UsageError(
        'station wants --source: where its numbers come from, and of when, such as --source "own, June 2026".',
      )
    const station = OwnStation.safeParse({
      name: rest[0],
      ...where,
      source: values["source"],
      prediction: predictionOf(values),
    })
    if (!station.success) throw new UsageError(station.error.issues.map(({ message }) => message).join(" "))
    return withBook(file, context, async (_, service) => {
      const saved = await service["stations.save"](station.data, context)
      return {
        json: saved,
        text: (width) =>
          [
            `Keeps the station ${station.data.name} as ${saved.id}. Undo: undo FILE ${saved.act}`,
            ...saved.cautions.flatMap((caution) => wrapText(`! ${caution.text}`, width)),
            ...wrapText(
              `Compare a day of it with what you see before you rely on it, then let it stand for a spot: spot FILE SPOT --tide ${saved.id}`,
              width,
            ),
          ].join("\n"),
      }
    })
  },
}

const stationLine = ({ id, name, word }: StationSeen, width: number): string[] =>
  wrapText(`${name} (${id}): ${word}`, width - 2).map((line) => `  ${line}`)

const foundAtOnce = 20

/** Stations by name or id, told from a place where one is given. */
function stationsNamed(words: readonly string[], where: Place | null, stations: Stations): Result {
  const found = stations.search(words, foundAtOnce).map((station) => stationSeen(station, where, stations))
  const what = words.join(" ")
  return {
    json: found,
    text: (width) =>
      found.length === 0
        ? wrapText(
            `No station's name or id holds "${what}". Those near a place: stations --lat N --lon N`,
            width,
          ).join("\n")
        : [
            ...found.flatMap((station) => foundLine(station, width)),
            ...(found.length === foundAtOnce ? ["There may be more: write more of the name."] : []),
          ].join("\n"),
  }
}

function foundLine(
  { id, name, kind, lat, lon, reference, distance_km }: StationSeen,
  width: number,
): string[] {
  const parts = [
    `${name} (${id}): ${kind} station at ${coordinatesText({ lat, lon }, "minutes")}`,
    distance_km === null ? null : `${distance_km.toFixed(1)} km away`,
    reference === null ? null : `worked out from ${reference.name} by offsets`,
  ].filter((part) => part !== null)
  return wrapText(`${parts.join(", ")}.`, width)
}

/** Constants in a file, or `--high` and `--low` as minutes, ratio and metres against `--reference`: "44,1.03" or "44". */
function predictionOf(values: Values): unknown {
  const { constants, reference, datum } = values
  if (typeof constants === "string") {
    const mean_m = metresIn("mean", values)
    if (typeof datum !== "string" || mean_m === undefined)
      throw new UsageError(
        "--constants wants --datum, what heights are counted from, and --mean, the mean level above that in metres.",
      )
    return {
      how: "tide constants",
      file: namedBytes(constants),
      datum,
      mean_m,
      great_diurnal_range_m: metresIn("range", values),
    }
  }
  if (typeof reference === "string")
    return { how: "tide offsets", reference, high: offsetOf("high", values), low: offsetOf("low", values) }
  throw new UsageError(
    "Give --constants FILE with --datum and --mean, or --reference ID with --high and --low.",
  )
}

function metresIn(flag: string, values: Values): number | undefined {
  const text = values[flag]
  if (typeof text !== "string") return undefined
  const metres = text.trim() === "" ? Number.NaN : Number(text)
  if (Number.isFinite(metres)) return metres
  throw new UsageError(`--${flag} "${text}" is not a number of metres.`)
}

function offsetOf(flag: "high" | "low", values: Values): unknown {
  const text = values[flag]
  if (typeof text !== "string")
    throw new UsageError(
      `--reference wants --${flag} too: how many minutes later ${flag} water is than there.`,
    )
  const parts = text.split(",")
  const [minutes, ratio, plus] = parts.map((part) => (part.trim() === "" ? Number.NaN : Number(part)))
  if (parts.length > 3 || [minutes, ratio ?? 1, plus ?? 0].some((number) => !Number.isFinite(number)))
    throw new UsageError(
      `--${flag} "${text}" is not read: write minutes later, then if need be the ratio of heights and metres to add, such as 44 or 44,1.03 or 44,1.03,0.1.`,
    )
  return { minutes, ratio, plus_m: plus }
}
