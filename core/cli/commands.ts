import { mkdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { AnswerJson, isComparison, isLookThrough, type Told } from "../../shared/answer.ts"
import { api } from "../../shared/api.ts"
import { isFactorId } from "../../shared/factors.ts"
import { ImportSettings } from "../../shared/imports.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { previewImport, runImport } from "../service/imports.ts"
import { newBook } from "../service/open.ts"
import { backUpFile } from "../store/backup.ts"
import { answerText, lookThroughText } from "./answerText.ts"
import { stepsText } from "./stepsText.ts"
import { counted } from "../../shared/figures.ts"
import { parse, sentences, texts } from "./arguments.ts"
import type { Command, Result } from "./command.ts"
import { tableFile } from "./files.ts"
import { importText, takenBackText } from "./importText.ts"
import { demoCommand } from "./demoCommand.ts"
import { logCommand } from "./logCommand.ts"
import { placeCommands } from "./placeCommands.ts"
import { readUnits } from "./readUnits.ts"
import { settingsCommand } from "./settingsCommand.ts"
import { skyCommand } from "./skyCommand.ts"
import { stationCommands } from "./stationCommands.ts"
import { undoCommand } from "./undoCommand.ts"
import { UsageError } from "./usage.ts"
import { withBook } from "./withBook.ts"

/** Every command by its name. */
export const commands: Readonly<Record<string, Command>> = {
  new: async (args) => {
    const { file } = parse(args, ["FILE"], {})
    const book = newBook(file)
    book.close()
    return { json: { file: book.file }, text: () => `Made ${book.file}. Next: import a table.` }
  },

  check: async (args, context) => {
    const { file } = parse(args, ["FILE"], {})
    return withBook(file, context, async (book, service) => {
      const { ok, findings } = await service["logbook.check"]({}, context)
      const info = { ...(await service["logbook.info"]({}, context)), file: book.file }
      if (!ok)
        throw new ProblemError("damaged_logbook", `${info.file} is damaged: ${findings.join(" ")}`, {
          findings,
        })
      const batches = info.batches.map(
        ({ id, files, stints_added, readings_added, tracks_added, taken_back_at }) =>
          `  ${id}  ${files}: ${stints_added} stints, ${readings_added} station readings${tracks_added === 0 ? "" : `, ${counted(tracks_added, "track")}`}${taken_back_at === null ? "" : ", taken back"}`,
      )
      return {
        json: { ok, findings, ...info },
        text: () =>
          [
            `${info.file} is sound.`,
            `${info.trips} trips, ${info.stops} stops, ${info.stints} stints, ${info.strikes} strikes.`,
            ...(batches.length > 0 ? ["Imports, newest first:", ...batches] : []),
          ].join("\n"),
      }
    })
  },

  backup: async (args, context) => {
    const { file } = parse(args, ["FILE"], {})
    return withBook(file, context, async (book) => {
      const copy = { file: await backUpFile(book.file, "by-hand") }
      return { json: copy, text: () => `Copied to ${copy.file}.` }
    })
  },

  import: async (args, context) => {
    const { file, rest, values } = parse(args, ["FILE", "TABLE..."], {
      "dry-run": { type: "boolean" },
      map: { type: "string", multiple: true },
      zone: { type: "string" },
      "trip-is": { type: "string" },
      repeats: { type: "string" },
      "all-or-nothing": { type: "boolean" },
      "station-units": { type: "string" },
    })
    const settings = ImportSettings.safeParse({
      map: values["map"],
      zone: values["zone"],
      trip_is: values["trip-is"],
      repeats: values["repeats"],
      all_or_nothing: values["all-or-nothing"],
      station_units: values["station-units"],
    })
    if (!settings.success) throw new UsageError(sentences(settings.error.issues))
    const sources = rest.map(tableFile)
    return withBook(file, context, async (book) => {
      if (values["dry-run"] === true) {
        const report = await previewImport(book, sources, settings.data, context)
        return { json: { dry_run: true, ...report }, text: (width) => importText(report, "preview", width) }
      }
      const done = await runImport(book, sources, settings.data, context)
      return { json: { dry_run: false, ...done }, text: (width) => importText(done, done, width) }
    })
  },

  "take-back": async (args, context) => {
    const { file, rest, values } = parse(args, ["FILE", "BATCH"], { "edited-too": { type: "boolean" } })
    return withBook(file, context, async (_, service) => {
      const [batch = ""] = rest
      const result = await service["import.take_back"](
        { batch, edited_too: values["edited-too"] === true },
        context,
      )
      return { json: result, text: (width) => takenBackText(result, width) }
    })
  },

  export: async (args, context) => {
    const { file, rest, values } = parse(args, ["FILE", "DIR"], { coordinates: { type: "boolean" } })
    return withBook(file, context, async (_, service) => {
      const [folder = ""] = rest
      const { files } = await service["export.tables"](
        { coordinates: values["coordinates"] === true },
        context,
      )
      mkdirSync(folder, { recursive: true })
      const written = files.map(({ name, bytes }) => {
        writeFileSync(join(folder, name), bytes)
        return join(folder, name)
      })
      return { json: { files: written }, text: () => `Wrote ${written.join(", ")}.` }
    })
  },

  ask: async (args, context) => {
    const { file, values } = parse(args, ["FILE"], {
      question: { type: "string" },
      outcome: { type: "string" },
      by: { type: "string" },
      worth: { type: "string" },
      species: { type: "string", multiple: true },
      where: { type: "string", multiple: true },
      effort: { type: "string" },
      cuts: { type: "string" },
      given: { type: "string" },
      "depends-on": { type: "string" },
      basis: { type: "string" },
      units: { type: "string" },
    })
    const ask = api["questions.ask"].input.safeParse({
      question: values["question"],
      outcome: values["outcome"] ?? (values["question"] === undefined ? undefined : "strike_rate"),
      worth: typeof values["worth"] === "string" ? Number(values["worth"]) : undefined,
      by: values["by"],
      species: texts(values["species"]).flatMap((names) => names.split(",").map((name) => name.trim())),
      where: texts(values["where"]).map(readWhere),
      effort: values["effort"],
      cuts: typeof values["cuts"] === "string" ? values["cuts"].split(",").map(Number) : undefined,
      given: typeof values["given"] === "string" ? readGiven(values["given"]) : undefined,
      depends_on: values["depends-on"],
      basis: values["basis"],
    })
    if (!ask.success) throw new UsageError(sentences(ask.error.issues))
    const named = readUnits(values["units"])
    return withBook(file, context, async (_, service) => {
      const units = named ?? (await service["settings.read"]({}, context)).units
      return answerResult(await service["questions.ask"]({ ...ask.data, units }, context), units)
    })
  },

  ...placeCommands,
  ...stationCommands,
  demo: demoCommand,
  log: logCommand,
  conditions: skyCommand,
  settings: settingsCommand,
  undo: undoCommand,
}

/** An answer for the terminal, and as exactly the JSON of the contract. */
function answerResult(answer: Told, reader: ReaderUnits): Result {
  if (isLookThrough(answer)) return { json: answer, text: (width) => lookThroughText(answer, width) }
  if (!isComparison(answer)) return { json: answer, text: (width) => stepsText(answer, width, reader) }
  return { json: AnswerJson.parse(answer), text: (width) => answerText(answer, width, reader) }
}

function readWhere(text: string): { factor: string; level: string } {
  const at = text.indexOf("=")
  if (at < 1) throw new UsageError(`--where "${text}" should read FACTOR=LEVEL, such as light=day.`)
  return { factor: text.slice(0, at).trim(), level: text.slice(at + 1).trim() }
}

function readGiven(text: string): string[] {
  if (text.trim() === "none") return []
  const names = text.split(",").map((name) => name.trim())
  const unknown = names.find((name) => !isFactorId(name))
  if (unknown !== undefined) throw new UsageError(`--given: "${unknown}" is not a factor.`)
  return names
}
