import { counted } from "./figures.ts"

/** Entities whose plural takes more than an s. */
const severalOf: Readonly<Record<string, string>> = { species: "species", lure_class: "lure classes" }

/** So many rows of a kind: "2 lure classes". */
export const entityText = (entity: string, rows: number): string =>
  counted(rows, entity.replaceAll("_", " "), severalOf[entity])
