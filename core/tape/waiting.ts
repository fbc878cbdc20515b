import type { DayReading } from "../../shared/day.ts"
import type { ReadingOf } from "./readings.ts"

/** Readings and notes that stand on lines of their own, above the line whose clock they wait for. */
export class Waiting {
  #readings: { reading: DayReading; of: ReadingOf }[] = []
  #notes: { line: string; note: string | null }[] = []

  /** Keeps a reading that has no clock of its own. */
  addReading(reading: DayReading, of: ReadingOf): void {
    this.#readings.push({ reading, of })
  }

  /** Keeps a note, and the line it was typed as. */
  addNote(line: string, note: string | null): void {
    this.#notes.push({ line, note })
  }

  /** Gives the waiting readings their clock (UTC ms), stop and stint, by their places in the day. */
  place(at: number | null, stop: number | null, stint: number | null): void {
    for (const { reading, of } of this.#readings)
      Object.assign(reading, {
        at,
        stop: of === "trip" ? null : stop,
        stint: of === "stint" ? stint : null,
      })
    this.#readings = []
  }

  /** The waiting notes and a line's own as one; they wait no more. */
  takeNotes(own: string | null): string | null {
    const note = [...this.#notes.map((one) => one.note), own].filter((text) => text !== null).join("\n")
    this.#notes = []
    return note === "" ? null : note
  }

  /** The lines of notes that no stint followed; they wait no more. */
  takeNoteLines(): string[] {
    const lines = this.#notes.map(({ line }) => line)
    this.#notes = []
    return lines
  }
}
