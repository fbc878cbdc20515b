import type { ImportPlanReport } from "../../shared/imports.ts"
import type { Refusal } from "./draft.ts"

/** What a plan's report says of all its files, with files that are no tables counted in: what was read of them, and refused. */
export function besideTables(
  report: ImportPlanReport,
  records: number,
  refusals: readonly Refusal[],
): Pick<ImportPlanReport, "records" | "refused" | "refused_rows"> {
  return {
    records: report.records + records,
    refused: [...report.refused, ...refusals],
    refused_rows: report.refused_rows + new Set(refusals.map(({ file, line }) => `${file}\n${line}`)).size,
  }
}
