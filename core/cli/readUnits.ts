import { presets, type ReaderUnits } from "../../shared/readerUnits.ts"
import type { Values } from "./arguments.ts"
import { UsageError } from "./usage.ts"

/** The units named on the command line: `us` or `metric`; null where nothing is said. */
export function readUnits(named: Values[string]): ReaderUnits | null {
  if (named === undefined) return null
  if (named === "metric" || named === "us") return presets[named]
  throw new UsageError(`--units "${String(named)}" is not known: metric or us.`)
}
