import type { Output } from "../../../shared/api.ts"
import { sheetColumns, type SheetColumn } from "../../../shared/sheet.ts"
import { remarkBefore } from "./shownRows.ts"
import { type SheetOf, type SheetState, useTypedSheet } from "./useTypedSheet.ts"

type Sheet = Output<"day.cells">

const daySheet: SheetOf<SheetColumn, Sheet> = {
  columns: sheetColumns,
  read: async (client, trip) => client.call("day.cells", { trip }),
  edit: async (client, acts) => client.call("day.edit", acts),
  remarkBefore,
  staysInPlace: false,
}

/** The day's sheet as it is typed; `mend` mends the time before a row. */
export function useSheet(
  trip: string,
): SheetState<SheetColumn, Sheet> & { readonly mend: (row: string) => void } {
  const typed = useTypedSheet(trip, daySheet)
  const { sheet, keep } = typed
  const mend = (row: string): void => {
    const [fix] = sheet?.times.find((time) => time.row === row)?.fixes ?? []
    if (fix !== undefined) keep(fix.edits)
  }
  return { ...typed, mend }
}
