import type { Handlers } from "../../shared/api.ts"
import { presets, ReaderUnits } from "../../shared/readerUnits.ts"
import type { LogbookSettings, SettingsChange } from "../../shared/settings.ts"
import { knownZone, requireZone } from "../exchange/read/zone.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"
import { putSetting } from "../store/putSetting.ts"
import { settingOf } from "../store/read/names.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "settings.read" | "settings.save">

/** The choices that a logbook keeps: the units its user reads, and his home zone. */
export const settingsHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "settings.read": () => queue(async () => book.read(settingsIn)),
  "settings.save": (wanted) => change(async () => book.change((open) => saveSettings(open, wanted))),
})

/** What stands in a logbook; metric and no home zone where nothing does. */
export const settingsIn = (db: OpenChange["db"]): LogbookSettings => ({
  units: unitsKept(settingOf(db, "units")),
  home_zone: settingOf(db, "home_zone"),
})

/** Metric where a newer version has kept a unit that this one does not know: numbers are shown with their unit anyway. */
function unitsKept(text: string | null): ReaderUnits {
  const kept = ReaderUnits.safeParse(text === null ? {} : JSON.parse(text))
  return kept.success ? kept.data : presets.metric
}

/** Keeps the settings named; `act` is what undoes it, null where nothing changed. */
export function saveSettings(
  open: OpenChange,
  { units, home_zone }: SettingsChange,
): LogbookSettings & { act: string | null } {
  const changed = [
    units !== undefined && putSetting(open, "units", JSON.stringify(units)),
    home_zone !== undefined && putSetting(open, "home_zone", zoneNamed(home_zone)),
  ]
  return { ...settingsIn(open.db), act: changed.includes(true) ? open.batch : null }
}

/** The zone in its usual letters. Throws ProblemError "unknown_zone". */
function zoneNamed(name: string | null): string | null {
  requireZone(name)
  return name === null ? null : knownZone(name)
}
