import type { Output } from "../../shared/api.ts"
import { SpotChange, type StationSeen } from "../../shared/places.ts"
import { parse, sentences, type Values } from "./arguments.ts"
import type { Command } from "./command.ts"
import { wrapText } from "./textTable.ts"
import { UsageError } from "./usage.ts"
import { withBook } from "./withBook.ts"

/** Flags of `spot` that are numbers, and the columns they set. "none" empties one. */
const minutes = {
  "lag-high": "lag_high_min",
  "lag-low": "lag_low_min",
  "slack-after-high": "slack_after_high_min",
  "slack-after-low": "slack_after_low_min",
} as const
/** The same for words. */
const words = {
  tide: "tide_station",
  current: "current_station",
  zone: "zone",
  "slack-source": "slack_source",
} as const

/** Commands about spots and the stations that stand for them. */
export const placeCommands: Readonly<Record<string, Command>> = {
  spot: async (args, context) => {
    const flags = Object.fromEntries(
      [...Object.keys(minutes), ...Object.keys(words), "at"].map((flag) => [flag, text]),
    )
    const { file, rest, values } = parse(args, ["FILE", "NAME"], flags)
    const [name = ""] = rest
    return withBook(file, context, async (_, service) => {
      const known = (await service["spots.list"]({}, context)).find((spot) => sameName(spot.name, name))
      const change = SpotChange.safeParse({
        ...(known === undefined ? { name } : { id: known.id }),
        ...(typeof values["at"] === "string" ? { coordinates: values["at"] } : {}),
        ...said(values, words, (word) => word),
        ...said(values, minutes, minutesIn),
      })
      if (!change.success) throw new UsageError(sentences(change.error.issues))
      const saved = await service["spots.save"](change.data, context)
      await service["conditions.settled"]({}, context)
      const spot = (await service["spots.list"]({}, context)).find(({ id }) => id === saved.spot.id)
      return {
        json: { ...saved, tide: spot?.tide ?? null, current: spot?.current ?? null },
        text: (width) =>
          [
            `${known === undefined ? "Made" : "Changed"} ${saved.spot.name}; ${saved.stints} stints are at it. Undo: undo FILE ${saved.act}`,
            ...stationLines("Tide", spot?.tide ?? null, width),
            ...currentLines("", spot, width),
            ...doubtLines("", spot, width),
          ].join("\n"),
      }
    })
  },

  spots: async (args, context) => {
    const { file } = parse(args, ["FILE"], {})
    return withBook(file, context, async (_, service) => {
      const spots = await service["spots.list"]({}, context)
      return {
        json: spots,
        text: (width) =>
          spots.length === 0
            ? "No spots yet."
            : spots
                .map((spot) =>
                  [
                    `${spot.name} (${spot.stints} stints, ${spot.lat === null ? "no coordinates" : (spot.zone ?? "no zone")})`,
                    ...stationLines("  Tide", spot.tide, width),
                    ...currentLines("  ", spot, width),
                    ...doubtLines("  ", spot, width),
                  ].join("\n"),
                )
                .join("\n"),
      }
    })
  },
}

const text = { type: "string" } as const

function minutesIn(word: string, flag: string): number {
  const value = word.trim() === "" ? Number.NaN : Number(word)
  if (!Number.isFinite(value)) throw new UsageError(`--${flag} "${word}" is not a number of minutes.`)
  return value
}

const sameName = (a: string, b: string): boolean => a.toLowerCase() === b.toLowerCase()

function said<K extends string, T>(
  values: Values,
  flags: Readonly<Record<K, string>>,
  read: (word: string, flag: string) => T,
): Record<string, T | null> {
  return Object.fromEntries(
    Object.entries<string>(flags).flatMap(([flag, column]) => {
      const value = values[flag]
      return typeof value === "string" ? [[column, value === "none" ? null : read(value, flag)] as const] : []
    }),
  )
}

const currentLines = (
  indent: string,
  spot: Output<"spots.list">[number] | undefined,
  width: number,
): string[] =>
  spot === undefined || spot.slack_after_high_min === null
    ? stationLines(`${indent}Current`, spot?.current ?? null, width)
    : wrapText(
        `Current: slack ${spot.slack_after_high_min} min after high and ${spot.slack_after_low_min ?? 0} min after low water (${spot.slack_source ?? "own"})`,
        width - indent.length,
      ).map((line) => `${indent}${line}`)

const doubtLines = (
  indent: string,
  spot: Output<"spots.list">[number] | undefined,
  width: number,
): string[] =>
  spot === undefined || spot.doubt === null
    ? []
    : wrapText(`! ${spot.doubt}`, width - indent.length).map((line) => `${indent}${line}`)

/** Title and station, indented as the title is. */
function stationLines(title: string, station: StationSeen | null, width: number): string[] {
  const indent = title.slice(0, title.length - title.trimStart().length)
  const told = station === null ? "none in reach" : `${station.name} (${station.id}), ${station.word}`
  return wrapText(`${title.trim()}: ${told}`, width - indent.length).map((line) => `${indent}${line}`)
}
