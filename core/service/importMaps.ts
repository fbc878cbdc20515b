import { z } from "zod"
import type { MappedHeader } from "../exchange/read/headerPrint.ts"
import { beginChange, type OpenChange } from "../store/put.ts"
import { putSetting } from "../store/putSetting.ts"
import { settingsNamed } from "../store/read/names.ts"

/** Before a header's fingerprint, the key of the setting that keeps its mappings. */
const prefix = "import_map "
const Mappings = z.array(z.string())

/** The mappings kept by header; what a newer version wrote in another form is left out. */
export const mapsKept = (db: OpenChange["db"]): Map<string, readonly string[]> =>
  new Map(
    settingsNamed(db, prefix).flatMap(({ key, value }) => {
      const map = Mappings.safeParse(parsed(value))
      return map.success ? [[key.slice(prefix.length), map.data] as const] : []
    }),
  )

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

/**
 * Keeps what was said of tables by their headers, stored together with the import but as an act of its own: taking the
 * import back does not forget it.
 */
export function rememberMaps({ db }: OpenChange, headers: readonly MappedHeader[]): void {
  const change = beginChange(db)
  for (const { print, map } of headers) putSetting(change, `${prefix}${print}`, JSON.stringify(map))
}
