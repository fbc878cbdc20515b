import type { TapeDay } from "../tape/reader.ts"

/** A day as it stands and as it is wanted, both canonical. */
export type Days = { readonly before: TapeDay; readonly after: TapeDay }

/** How many rows were made, changed and removed. */
export type Tally = { made: number; changed: number; removed: number }
