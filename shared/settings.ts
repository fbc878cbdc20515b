import { z } from "zod"
import { ReaderUnits } from "./readerUnits.ts"

/** What a logbook keeps of its user's choices. */
export const LogbookSettings = z.object({
  /** The units in which answers are told where a question names no others. */
  units: ReaderUnits,
  /** IANA time zone of what says no zone of its own; null where none is chosen. */
  home_zone: z.string().nullable(),
})
export type LogbookSettings = z.infer<typeof LogbookSettings>

/** What to change of them: what is not named stays as it is, `units` are chosen as a whole, a null zone is forgotten. */
export const SettingsChange = LogbookSettings.partial()
export type SettingsChange = z.infer<typeof SettingsChange>
