import type { Handlers, Parsed } from "../../shared/api.ts"
import { isComparison } from "../../shared/answer.ts"
import { entities } from "../../shared/entities.ts"
import { factorOf } from "../../shared/factors.ts"
import { counted } from "../../shared/figures.ts"
import type { PartName, Piece, PieceKind } from "../../shared/pieces.ts"
import { ProblemError } from "../../shared/problems.ts"
import { readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import { Ask } from "../../shared/questions.ts"
import { partsOf, type PresentationListed, type TacklePart, type TackleParts } from "../../shared/tackle.ts"
import { readFactor } from "../exchange/read/factorCell.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import { type OpenChange, put } from "../store/put.ts"
import {
  luresListed,
  presentationsListed,
  retrievesListed,
  rigsListed,
  tripsOfPiece,
} from "../store/read/tackle.ts"
import { partText, sayTackle } from "../tackle/sayTackle.ts"
import type { ConditionsKeeper } from "./conditions.ts"
import type { Queue } from "./queue.ts"
import type { FactsFor } from "./rememberedFacts.ts"
import type { Answerer } from "./service.ts"
import { settingsIn } from "./settings.ts"
import { classOf, sameParts, wantedRow } from "./tackleRows.ts"

type Area = Pick<Handlers, "pieces.list" | "pieces.result" | "pieces.save" | "pieces.retire">

/** Lures, rigs and retrieves one by one: listed, changed part by part, retired with their presentations, and what they came to. */
export const pieceHandlers = (
  book: Logbook,
  queue: Queue,
  change: Queue,
  keeper: ConditionsKeeper,
  tools: { readonly factsFor: FactsFor; readonly answer: Answerer },
): Area => ({
  "pieces.list": () => queue(async () => book.read(piecesIn)),
  "pieces.result": async ({ what, id }, context) => {
    await keeper.settled(context)
    const facts = await tools.factsFor(["presentation"])
    const [reader, names] = await queue(async () => [
      book.read(settingsIn).units,
      new Set(book.read((db) => presentationsOf(db, what, id)).map(({ name }) => name)),
    ])
    const told = await tools.answer(madeOf(facts, names), asFished, reader, context)
    return isComparison(told) ? (told.levels.find(({ level }) => level === thisOne) ?? null) : null
  },
  "pieces.save": (wanted) => change(async () => book.change((open) => savePart(open, wanted))),
  "pieces.retire": (wanted) => change(async () => book.change((open) => retire(open, wanted))),
})

const asFished = Ask.parse({ outcome: "landed_rate", by: "presentation", basis: "raw" })
const thisOne = "this one"

/** The facts with all presentations of one piece told as one level, and the rest as another. */
function madeOf(facts: Facts, names: ReadonlySet<string>): Facts {
  const column = facts.factors.presentation
  if (column?.kind !== "level") return facts
  const codes = column.codes.map((code) => (code < 0 ? code : names.has(column.levels[code] ?? "") ? 0 : 1))
  return { ...facts, factors: { presentation: { kind: "level", codes, levels: [thisOne, "another"] } } }
}

const keyOf = { lure: "lure_id", rig: "rig_id", retrieve: "retrieve_id" } as const

const presentationsOf = (db: OpenChange["db"], what: PieceKind, id: string): Listed[] =>
  presentationsListed(db).filter((one) => one[keyOf[what]] === id)
type Listed = ReturnType<typeof presentationsListed>[number]

type Row = { readonly id: string; readonly name: string | null; readonly parts: TackleParts }

const rowsOf = (db: OpenChange["db"], what: PieceKind): Row[] => {
  switch (what) {
    case "lure":
      return luresListed(db, "", "")
    case "rig":
      return rigsListed(db)
    case "retrieve":
      return retrievesListed(db).map((row) => ({ ...row, name: null }))
  }
}

function piecesIn(db: OpenChange["db"]): Record<PieceKind, Piece[]> {
  const reader = settingsIn(db).units
  const presentations = presentationsListed(db)
  const list = (what: PieceKind): Piece[] => {
    const rows = rowsOf(db, what)
    return rows.map((row) =>
      pieceOf(
        what,
        row,
        rows,
        presentations.filter((one) => one[keyOf[what]] === row.id),
        tripsOfPiece(db, keyOf[what], row.id),
        reader,
      ),
    )
  }
  return { lure: list("lure"), rig: list("rig"), retrieve: list("retrieve") }
}

function pieceOf(
  what: PieceKind,
  { id, name, parts }: Row,
  rows: readonly Row[],
  presentations: readonly Pick<PresentationListed, "id" | "name" | "retired_at" | "stints" | "last">[],
  trips: number,
  reader: ReaderUnits,
): Piece {
  const words = sayTackle(parts, reader)
  const lasts = presentations.flatMap(({ last }) => last ?? []).toSorted()
  return {
    id,
    name: name ?? (words === "" ? "not described" : words),
    words,
    fields: partNames(what).map((part) => ({
      part,
      label: part === "name" || part === "lure" ? "Name" : factorOf(part).label,
      text: part === "name" ? (name ?? "") : partText(part, parts[part], reader),
      choices: choicesOf(part, rows),
    })),
    presentations: presentations.map((one) => ({
      id: one.id,
      name: one.name,
      retired: one.retired_at !== null,
    })),
    stints: presentations.reduce((sum, { stints }) => sum + stints, 0),
    trips,
    last: lasts.at(-1) ?? null,
    retired: presentations.length > 0 && presentations.every(({ retired_at }) => retired_at !== null),
  }
}

const partNames = (what: PieceKind): PartName[] => [
  ...(what === "rig" ? (["name"] as const) : []),
  ...partsOf[what],
]

/** The fixed words of a part, else those that others of its kind have. */
function choicesOf(part: PartName, rows: readonly Row[]): string[] {
  if (part === "name" || part === "lure") return []
  const factor = factorOf(part)
  if (factor.kind !== "categorical") return []
  const said = rows.flatMap(({ parts }) => parts[part] ?? []).map(String)
  return [...(factor.levels ?? [...new Set(said)].toSorted())]
}

type Done = { act: string; said: string }

function savePart(open: OpenChange, { what, id, part, text }: Parsed<"pieces.save">): Done {
  if (!partNames(what).includes(part))
    throw new ProblemError("bad_input", `A ${what} has no ${part.replaceAll("_", " ")}.`, { part })
  const typed = text.trim()
  const reader = settingsIn(open.db).units
  const value = typed === "" ? null : readPart(part, typed, reader)
  const row = wantedRow(open.db, what, id)
  const columns =
    part === "lure_class"
      ? { lure_class_id: value === null ? null : classOf(open, String(value)) }
      : { [part === "lure" ? "name" : part]: value }
  put(open, what, entities[what].parse({ ...row, ...columns }))
  requireOther(open, what, id)
  const label = part === "name" || part === "lure" ? "name" : factorOf(part).label.toLowerCase()
  const said = `${what} changed: ${label} ${typed === "" ? "not said" : typed}`
  nameAct(open, said)
  return { act: open.batch, said }
}

function readPart(part: PartName, text: string, reader: ReaderUnits): string | number {
  if (part === "name" || part === "lure" || part === "lure_class") return text
  const factor = factorOf(part)
  const unit = factor.kind === "categorical" ? null : factor.unit
  const read = readFactor(part, unit === null ? null : readerUnit(unit, reader), text, false)
  if (read.kind === "read") return read.value
  throw new ProblemError("bad_input", `${factor.label}: ${read.reason}.`, { part, text })
}

/** Refuses a piece that has become the same as another: presentations then would be told apart by nothing. */
function requireOther(open: OpenChange, what: PieceKind, id: string): void {
  const rows = rowsOf(open.db, what)
  const own = rows.find((row) => row.id === id)
  const among: readonly TacklePart[] = partsOf[what]
  const same = rows.find(
    (row) =>
      own !== undefined && row.id !== id && row.name === own.name && sameParts(row.parts, own.parts, among),
  )
  if (same !== undefined)
    throw new ProblemError(
      "bad_input",
      `There is another ${what} of exactly these parts already: use that one in the presentation.`,
      { id: same.id },
    )
}

function retire(open: OpenChange, { what, id, retired }: Parsed<"pieces.retire">): Done {
  const of = presentationsOf(open.db, what, id).filter(({ retired_at }) => (retired_at === null) === retired)
  if (of.length === 0)
    throw new ProblemError(
      "bad_input",
      `No presentation of this ${what} is there to be ${retired ? "retired" : "brought back"}.`,
      {
        id,
      },
    )
  for (const one of of)
    put(open, "presentation", {
      ...wantedRow(open.db, "presentation", one.id),
      retired_at: retired ? open.at : null,
    })
  const said = `${what} ${retired ? "retired" : "brought back"} with ${counted(of.length, "presentation")}`
  nameAct(open, said)
  return { act: open.batch, said }
}
