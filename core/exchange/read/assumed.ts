import type { ReadOptions } from "../draft.ts"
import type { RowZone, ZoneSource } from "./zone.ts"

/** What the rows left open and how it was taken, counted while they are read and said once for the whole import. */
export class Assumed {
  pastMidnight = 0
  twice = 0
  oneRod = 0
  readonly #zones = new Map<ZoneSource, number>()

  zone({ from }: RowZone): void {
    this.#zones.set(from, (this.#zones.get(from) ?? 0) + 1)
  }

  sentences(options: ReadOptions): string[] {
    const told: string[] = []
    for (const [from, words] of [
      ["option", `in ${options.zone}, as said`],
      ["home", `in the logbook's home zone, ${options.home_zone}`],
      ["none", "in UTC, since neither the table nor the logbook names a zone"],
    ] as const) {
      const rows = this.#zones.get(from)
      if (rows !== undefined) told.push(`${counted(rows)} without a zone: clock times are read ${words}.`)
    }
    if (this.oneRod > 0) told.push(`${counted(this.oneRod)} without a number of rods: taken as 1.`)
    if (this.pastMidnight > 0) told.push(`${counted(this.pastMidnight)} taken as fished past midnight.`)
    if (this.twice > 0) {
      told.push(
        `${this.twice === 1 ? "1 clock time" : `${this.twice} clock times`} came twice that night, when clocks went back: the first is taken.`,
      )
    }
    return told
  }
}

const counted = (rows: number): string => (rows === 1 ? "1 row" : `${rows} rows`)
