import type { ImportSettings } from "../../../shared/imports.ts"

/** What is said of tables beyond their columns. */
export type Choices = Pick<ImportSettings, "trip_is" | "repeats" | "station_units">

/** What holds until something else is said. */
export const usualChoices: Choices = { trip_is: "row", repeats: "skip", station_units: null }
