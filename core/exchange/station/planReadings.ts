import type { ImportPlanReport } from "../../../shared/imports.ts"
import type { StationReading } from "../../store/read/stationReadings.ts"
import { besideTables } from "../besideTables.ts"
import type { ImportPlan } from "../plan.ts"
import { measured, type KeptColumn } from "./kept.ts"
import { reachHours } from "./reach.ts"
import type { PlannedReading } from "./rows.ts"
import type { StationFile } from "./readStations.ts"
import { slotMinutes } from "./thin.ts"
import { utcText } from "./utcText.ts"

/** The plan with what station files bring, and its report with what the user should know of them. */
export function withReadings(
  plan: ImportPlan,
  files: readonly StationFile[],
  stored: readonly StationReading[],
): ImportPlan {
  if (files.length === 0) return plan
  const { readings, already_there, otherwise } = newReadings(files, stored)
  const { report } = plan
  return {
    ...plan,
    readings,
    report: {
      ...report,
      ...besideTables(
        report,
        files.reduce((sum, { records }) => sum + records, 0),
        files.flatMap(({ refusals }) => refusals),
      ),
      readings: {
        adds: readings.length,
        trips: new Set(readings.map(({ trip_id }) => trip_id)).size,
        already_there,
        files: files.map(fileReport),
      },
      assumptions: [...report.assumptions, ...assumptionsOf(files, plan)],
      cautions: [...report.cautions, ...cautionsOf(files, readings.length, otherwise)],
    },
  }
}

const keyOf = ({ trip_id, at }: { trip_id: string; at: number }): string => `${trip_id} ${at}`

type Held = { readonly [C in KeptColumn]?: number | null }

/** The readings that the logbook does not hold yet, those it does, and those of which it holds another value. */
function newReadings(
  files: readonly StationFile[],
  stored: readonly StationReading[],
): { readings: PlannedReading[]; already_there: number; otherwise: number } {
  const known = new Map<string, Held[]>()
  const remember = (key: string, values: Held) => {
    const others = known.get(key)
    if (others === undefined) known.set(key, [values])
    else others.push(values)
  }
  for (const reading of stored) remember(keyOf(reading), reading)
  const readings: PlannedReading[] = []
  let already_there = 0
  let otherwise = 0
  for (const { trip_id, row } of files.flatMap((file) => file.kept)) {
    const reading = { trip_id, at: row.at, values: row.values }
    const values = measured(row.values)
    const others = known.get(keyOf(reading)) ?? []
    if (others.some((other) => values.every(([column, value]) => other[column] === value))) {
      already_there++
      continue
    }
    const differs =
      ([column, value]: [KeptColumn, number]) =>
      (other: Held) =>
        typeof other[column] === "number" && other[column] !== value
    if (values.some((value) => others.some(differs(value)))) otherwise++
    remember(keyOf(reading), row.values)
    readings.push(reading)
  }
  readings.sort((a, b) => a.at - b.at || (a.trip_id < b.trip_id ? -1 : 1))
  return { readings, already_there, otherwise }
}

const fileReport = (file: StationFile): ImportPlanReport["readings"]["files"][number] => ({
  file: file.file,
  format: file.format,
  rows: file.rows,
  first_at: file.first_at,
  last_at: file.last_at,
  in_reach: file.in_reach,
  kept: file.kept.length,
  columns: [...file.columns].map(([column, found]) => ({ column, ...found })),
})

function assumptionsOf(files: readonly StationFile[], plan: ImportPlan): string[] {
  const said = files.flatMap((file) => file.assumptions)
  if (files.some(({ columns }) => [...columns.values()].some(({ target }) => target === "water_level_m")))
    said.push("Water levels are heights above the datum of their own file, which it does not name.")
  if (files.some(({ in_reach, kept }) => kept.length < in_reach))
    said.push(`Of readings closer together one in ${slotMinutes} minutes is kept for each trip.`)
  if (plan.trips.length > 0)
    said.push(
      "Readings are kept for trips that are in the logbook already. Import the station files once more for those that " +
        "come in now; nothing is added twice.",
    )
  return said
}

function cautionsOf(
  files: readonly StationFile[],
  adds: number,
  otherwise: number,
): { code: string; text: string }[] {
  const cautions = files
    .filter(({ in_reach }) => in_reach === 0)
    .map(({ file, first_at, last_at }) => ({
      code: "no_trip_in_reach",
      text:
        first_at === null || last_at === null
          ? `No row of ${file} could be read: nothing of it is kept.`
          : `${file} has rows from ${utcText(first_at)} to ${utcText(last_at)}, and nothing measured within ` +
            `${reachHours} hours of a trip in the logbook: nothing of it is kept.`,
    }))
  if (otherwise > 0)
    cautions.push({
      code: "other_readings",
      text:
        `For the times of ${otherwise} of these readings the logbook, or another of the files, has other values: ` +
        "from another station, above another datum, or read in other units. Where an earlier import was wrong, take " +
        "it back first.",
    })
  if (adds > 0)
    cautions.push({
      code: "station_elsewhere",
      text:
        "A station measures where it stands: temperature, salinity, wind and level may differ where you fished, and preliminary " +
        "readings may be revised. They are a record, not for navigation.",
    })
  return cautions
}
