import type { Coded } from "../../../shared/codes.ts"
import { sheetColumns, type SheetColumn } from "../../../shared/sheet.ts"
import type { GridColumn } from "../../parts/grid/types.ts"
import { codesFor } from "./choices.ts"

const heads: Record<SheetColumn, { readonly label: string; readonly help: string }> = {
  who: { label: "Who", help: "An angler's code, where several fish in lanes of their own." },
  start: { label: "Start", help: "640, 6:40a, or +35 for 35 minutes after the row above. ~640 is about." },
  end: { label: "End", help: "705, or +25 for how long. Left empty, the next start ends it." },
  spot: { label: "Spot", help: "A code or the first letters of its name. Left empty, as above." },
  presentation: {
    label: "Presentation",
    help: "A code or first letters; pt/2x3 for two actions and three seconds; ck+p4 shared, ck|p4 two rods.",
  },
  rods: { label: "Rods", help: "How many rods at once." },
  came: {
    label: "What came",
    help: "m missed, l lost, b bitten off, f follow, g hung up, k lure lost, m4 four of them; fish by code and length: mml rd24,22",
  },
  readings: { label: "Readings", help: "w71 v stained wind 6 sw: water, visibility, wind." },
  why: { label: "Why changed", help: "p planned, s slow, l lost or fouled, m moved, w saw something." },
  notes: { label: "Notes", help: "Anything else." },
  more: {
    label: "More",
    help: "-10m a rest, sight, blind, count=-m misses not counted. ticked: out of a ten-minute strip.",
  },
}

/** The columns of a day's sheet; who fished only where there are several. */
export function columnsFor(all: readonly Coded[], severalAnglers: boolean): GridColumn[] {
  const kinds = { who: "angler", spot: "spot", presentation: "presentation" } as const
  return sheetColumns
    .filter((id) => id !== "who" || severalAnglers)
    .map((id) => {
      const { label, help } = heads[id]
      const column = { id, label, help, numeric: id === "rods" }
      return id === "who" || id === "spot" || id === "presentation"
        ? { ...column, choices: (typed: string) => codesFor(typed, kinds[id], all) }
        : column
    })
}
