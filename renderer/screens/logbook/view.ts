import type { Order } from "./list.ts"

/** How the list is looked at. `day` as YYYY-MM-DD, or empty for all; `year` empty for the latest. */
export type ListView = {
  readonly search: string
  readonly order: Order
  readonly day: string
  readonly year: string
}

export const wholeList: ListView = { search: "", order: "latest", day: "", year: "" }

/** Kept while a trip is read, so that coming back finds the same rows at the same place. */
export const kept: { view: ListView; scroll: number; opened: string | null } = {
  view: wholeList,
  scroll: 0,
  opened: null,
}
