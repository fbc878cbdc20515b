import type { DeskState } from "../../../shared/desk.ts"
import { Backups } from "./Backups.tsx"
import { ExportTables } from "./ExportTables.tsx"
import { Imports } from "./Imports.tsx"
import { Logbooks } from "./Logbooks.tsx"

/** Logbooks, tables in and out, and backups. */
export function Files({ desk }: { readonly desk: DeskState }) {
  return (
    <article>
      <h1>Files</h1>
      <div className="file-sections">
        <Logbooks desk={desk} />
        {desk.open === null ? null : (
          <>
            <Imports key={desk.open.name} readOnly={desk.open.read_only !== null} />
            <ExportTables />
            <Backups />
          </>
        )}
      </div>
    </article>
  )
}
