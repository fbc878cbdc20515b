import { Choice } from "../../parts/Choice.tsx"
import type { Mapping } from "./Imports.tsx"
import { targets } from "./targets.ts"

/** The choice of what one column of a table is. */
export function ReadAs({
  column,
  mapping,
  onMap,
}: {
  readonly column: string
  readonly mapping: Mapping
  readonly onMap: (mapping: Mapping) => void
}) {
  return (
    <Choice
      label={`Read ${column} as`}
      sections={targets}
      value={mapping[column] ?? ""}
      onChange={(id) => onMap({ ...mapping, [column]: id })}
    />
  )
}
