import { existsSync, writeFileSync } from "node:fs"
import { ProblemError } from "../../shared/problems.ts"
import { newSampleBook, usualSample } from "../service/sample.ts"
import { countRows } from "../store/read/info.ts"
import { parse, type Values } from "./arguments.ts"
import type { Command } from "./command.ts"
import { UsageError } from "./usage.ts"

const mostSeasons = 10

/** `demo`: the sample logbook of an invented guide, with its truth for those who want to check the answers. */
export const demoCommand: Command = async (args) => {
  const { file, values } = parse(args, ["FILE"], {
    seed: { type: "string" },
    seasons: { type: "string" },
    truth: { type: "string" },
  })
  const seed = wholeNumber(values, "seed", usualSample.seed, 2 ** 31 - 1)
  const seasons = wholeNumber(values, "seasons", usualSample.seasons, mostSeasons)
  if (seasons < 1) throw new UsageError("--seasons is 1 or more.")
  const truthFile = typeof values["truth"] === "string" ? values["truth"] : null
  if (truthFile !== null && existsSync(truthFile))
    throw new ProblemError("file_exists", `${truthFile} exists already. Choose another name for the truth.`, {
      file: truthFile,
    })
  const { book, truth } = await newSampleBook(file, { seed, seasons })
  const counts = countRows(book.db)
  book.close()
  if (truthFile !== null) writeFileSync(truthFile, JSON.stringify(truth))
  const { stints: _, ...told } = truth
  return {
    json: { file: book.file, seed, seasons, ...counts, truth: told },
    text: () =>
      [
        `Made ${book.file}: a sample logbook, all invented but the tide stations and the sky. Seed ${seed}.`,
        `${counts.trips} trips of a guide and her people on the Georgia coast, ${counts.stints} stints, ${counts.strikes} strikes.`,
        ...(truthFile === null ? [] : [`What is really true in it: ${truthFile}.`]),
      ].join("\n"),
  }
}

function wholeNumber(values: Values, flag: string, otherwise: number, most: number): number {
  const text = values[flag]
  if (text === undefined) return otherwise
  const value = typeof text === "string" && /^\d+$/.test(text) ? Number(text) : Number.NaN
  if (!(value <= most))
    throw new UsageError(`--${flag} "${String(text)}" is not a whole number up to ${most}.`)
  return value
}
