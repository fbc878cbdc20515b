import { readFileSync } from "node:fs"
import { gunzipSync } from "node:zlib"
import { z } from "zod"
import { isConstituent, type ConstituentName } from "../tide/constituents.ts"

const constituent = z.custom<ConstituentName>((name) => typeof name === "string" && isConstituent(name))
/** Name, amplitude (m or kn) and phase lag on the UTC meridian, degrees. */
const constants = z.array(z.tuple([constituent, z.number(), z.number()])).min(1)
const place = { id: z.string(), name: z.string(), lat: z.number(), lon: z.number() }
const waterOffset = z.object({ minutes: z.number(), ratio: z.number(), plus_m: z.number() })
const directions = { flood_direction_deg: z.number().nullable(), ebb_direction_deg: z.number().nullable() }

const TideReference = z.object({
  ...place,
  kind: z.literal("tide"),
  datum: z.string(),
  mean_m: z.number(),
  great_diurnal_range_m: z.number().nullable(),
  constants,
})
const TideSubordinate = z.object({
  ...place,
  kind: z.literal("tide"),
  reference: z.string(),
  offsets: z.object({ high: waterOffset, low: waterOffset }),
})
const CurrentReference = z.object({
  ...place,
  kind: z.literal("current"),
  mean_flow_kn: z.number(),
  ...directions,
  constants,
})
export const CurrentSubordinate = z.object({
  ...place,
  kind: z.literal("current"),
  reference: z.string(),
  ...directions,
  offsets: z.object({
    slack_before_flood_min: z.number(),
    flood_min: z.number(),
    slack_before_ebb_min: z.number(),
    ebb_min: z.number(),
    flood_ratio: z.number(),
    ebb_ratio: z.number(),
  }),
})

/** One station as the file keeps it. */
export const StationLine = z.union([TideReference, TideSubordinate, CurrentReference, CurrentSubordinate])
export type StationLine = z.infer<typeof StationLine>

const StationFileHeader = z.object({
  source: z.string(),
  through: z.string(),
  date: z.string(),
  licence: z.string(),
  stations: z.int(),
})
export type StationFileHeader = z.infer<typeof StationFileHeader>

/** A station's place in the list: what searching needs. */
export type ListedStation = z.infer<typeof Listed>
const Listed = z.object({ ...place, kind: z.enum(["tide", "current"]), reference: z.string().optional() })

/** The stations that come with the product: where its data are from, the list, and one station's data. */
export type StationFile = {
  readonly header: StationFileHeader
  readonly list: readonly ListedStation[]
  readonly has: (id: string) => boolean
  readonly read: (id: string) => StationLine | null
}

let known: StationFile | null = null

/** The station file, read once. A station's constants are parsed when it is first asked for. */
export function stationFile(): StationFile {
  known ??= load()
  return known
}

function load(): StationFile {
  const bytes = readFileSync(new URL("./noaa.jsonl.gz", import.meta.url))
  const [first = "", ...rest] = gunzipSync(bytes).toString("utf8").split("\n")
  const list = rest.map((line) => Listed.parse(JSON.parse(line)))
  const lineOf = new Map(list.map(({ id }, i) => [id, rest[i] ?? ""]))
  return {
    header: StationFileHeader.parse(JSON.parse(first)),
    list,
    has: (id) => lineOf.has(id),
    read: (id) => {
      const line = lineOf.get(id)
      return line === undefined ? null : StationLine.parse(JSON.parse(line))
    },
  }
}
