import { presets, type ReaderUnits } from "../../shared/readerUnits.ts"

/** The units usual where the user's first language is spoken as he has set it: the United States' own, metric elsewhere. */
export function unitsOf(language: string): ReaderUnits {
  return new Intl.Locale(language).maximize().region === "US" ? presets.us : presets.metric
}

/** What a new logbook is kept in until its user chooses otherwise. */
export const regionUnits = unitsOf(navigator.language)
