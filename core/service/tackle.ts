import type { Handlers, Parsed } from "../../shared/api.ts"
import { entities, stamps } from "../../shared/entities.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import {
  partsOf,
  tackleParts,
  type PresentationLine,
  type PresentationListed,
  type Tackle,
  type TackleChange,
  type TacklePart,
  type TackleParts,
} from "../../shared/tackle.ts"
import type { Logbook } from "../store/logbook.ts"
import { add, put, removeById, rowById, type OpenChange } from "../store/put.ts"
import { wordsOf } from "../store/read/names.ts"
import {
  classesListed,
  latestSeason,
  luresListed,
  presentationsListed,
  retrievesListed,
  rigsListed,
  sinksMeasured,
  type MeasuredSink,
} from "../store/read/tackle.ts"
import { ownWords, tradeWords, type OwnWordPart } from "../tackle/phrases.ts"
import { readLine, type KnownTackle } from "../tackle/readLine.ts"
import { nameOfTackle, sayTackle } from "../tackle/sayTackle.ts"
import { requireCodes, suggestedCodes } from "./codes.ts"
import type { Queue } from "./queue.ts"
import { settingsIn } from "./settings.ts"
import { classOf, sameParts, wantedRow } from "./tackleRows.ts"

type Area = Pick<Handlers, "tackle.list" | "tackle.read" | "tackle.keep" | "tackle.save">

/** Lures, rigs, retrieves and the presentations made of them. */
export const tackleHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "tackle.list": () => queue(async () => book.read(tackleIn)),
  "tackle.read": ({ line }) => queue(async () => book.read((db) => readIn(db, line))),
  "tackle.keep": (wanted) => change(async () => book.change((open) => keep(open, wanted))),
  "tackle.save": (wanted) =>
    change(async () =>
      book.change((open) => {
        save(open, wanted)
        return { act: open.batch }
      }),
    ),
})

function tackleIn(db: OpenChange["db"]): Tackle {
  const season = latestSeason(db) ?? new Date().getUTCFullYear()
  const sinks = sinksMeasured(db)
  const reader = settingsIn(db).units
  const withWords = <R extends { readonly parts: TackleParts }>(row: R) => ({
    ...row,
    words: sayTackle(row.parts, reader),
  })
  return {
    season,
    classes: classesListed(db),
    lures: luresListed(db, `${season}-01-01`, `${season + 1}-01-01`).map(withWords),
    rigs: rigsListed(db).map(withWords),
    retrieves: retrievesListed(db).map(withWords),
    presentations: presentationsListed(db).map((row) => ({
      ...withWords(row),
      sink: sinkOf(row, sinks),
    })),
  }
}

/** The measured sink of a presentation's rig and lure; that of its rig alone where the two were not timed together. */
function sinkOf(
  { rig_id, lure_id }: Pick<PresentationListed, "rig_id" | "lure_id">,
  sinks: readonly MeasuredSink[],
): PresentationListed["sink"] {
  if (rig_id === null && lure_id === null) return null
  const found =
    sinks.find((sink) => sink.rig_id === rig_id && sink.lure_id === lure_id) ??
    (rig_id === null ? undefined : sinks.find((sink) => sink.rig_id === rig_id && sink.lure_id === null))
  return found === undefined ? null : { id: found.id, seconds: found.seconds, depth_m: found.depth_m }
}

function knownIn(db: OpenChange["db"]): KnownTackle {
  const words = (part: OwnWordPart): readonly string[] => [
    ...new Set([...wordsOf(db, part), ...tradeWords[part]]),
  ]
  return {
    words: {
      lure_class: words("lure_class"),
      retrieve_style: words("retrieve_style"),
      profile: words("profile"),
      imitates: words("imitates"),
      lure_sound: words("lure_sound"),
      cork_shape: words("cork_shape"),
      cork_sound: words("cork_sound"),
    } satisfies Record<(typeof ownWords)[number], readonly string[]>,
    lures: luresListed(db, "", "").flatMap(({ name, parts }) => (name === null ? [] : [{ name, parts }])),
    coded: new Map(
      presentationsListed(db).flatMap(({ code, parts }) => (code === null ? [] : [[code, parts] as const])),
    ),
  }
}

function readIn(db: OpenChange["db"], line: string): PresentationLine {
  const reader: ReaderUnits = settingsIn(db).units
  const { tokens, parts } = readLine(line, knownIn(db), reader)
  const existing = presentationsListed(db)
  const name = freeName(
    nameOfTackle(parts, reader),
    existing.map((row) => row.name),
  )
  const { code, mark } = suggestedCodes(db, {
    kind: "presentation",
    name: [parts.lure ?? parts.profile ?? parts.lure_class, parts.colour, parts.retrieve_style].join(" "),
  })
  const same = existing.find((row) => sameParts(row.parts, parts, tackleParts))
  return {
    tokens: [...tokens],
    parts,
    words: sayTackle(parts, reader),
    name,
    code,
    mark,
    same: same === undefined ? null : { id: same.id, name: same.name },
  }
}

/** A name that none has yet, by a number after it. */
function freeName(wanted: string, taken: readonly string[]): string {
  const names = new Set(taken.map((name) => name.toLowerCase()))
  let name = wanted
  for (let n = 2; names.has(name.toLowerCase()); n++) name = `${wanted} (${n})`
  return name
}

function keep(
  open: OpenChange,
  { line, ...said }: Parsed<"tackle.keep">,
): { id: string; act: string; name: string } {
  const { db } = open
  const read = readIn(db, line)
  const unclear = read.tokens.find((token) => token.unclear !== null)
  if (unclear?.unclear) throw new ProblemError("bad_input", unclear.unclear.sentence, { token: unclear.text })
  if (read.tokens.length === 0)
    throw new ProblemError("bad_input", "Say what it is made of: soft plastic, 1/4 oz, hop, dark.", {})
  const name = said.name ?? read.name
  requireFreeName(db, name, null)
  const code = said.code === undefined ? read.code : tidy(said.code)
  const mark = said.mark === undefined ? read.mark : tidy(said.mark)
  requireCodes(open, null, { code, mark })
  const id = add(open, "presentation", {
    name,
    code,
    mark,
    lure_id: lureOf(open, read.parts),
    rig_id: rigOf(open, read.parts),
    retrieve_id: retrieveOf(open, read.parts),
  })
  return { id, act: open.batch, name }
}

const saidOf = (parts: TackleParts, among: readonly TacklePart[]): boolean =>
  among.some((part) => parts[part] !== null)

/** The lure of these parts, made where the logbook has none; null where nothing is said of a lure. */
function lureOf(open: OpenChange, parts: TackleParts): string | null {
  if (!saidOf(parts, partsOf.lure)) return null
  const found = luresListed(open.db, "", "").find((lure) => sameParts(lure.parts, parts, partsOf.lure))
  if (found !== undefined) return found.id
  const { lure_class, lure: name } = parts
  const ofClass = lure_class === null ? null : classOf(open, lure_class)
  return add(open, "lure", { ...Lure.parse(parts), name, lure_class_id: ofClass })
}
const Lure = entities.lure.omit({ ...stamps, name: true, lure_class_id: true, price: true })

function rigOf(open: OpenChange, parts: TackleParts): string | null {
  if (!saidOf(parts, partsOf.rig)) return null
  const found = rigsListed(open.db).find((rig) => sameParts(rig.parts, parts, partsOf.rig))
  return found?.id ?? add(open, "rig", Rig.parse(parts))
}
const Rig = entities.rig.omit({ ...stamps, name: true, sink_seconds: true, sink_depth_m: true })

function retrieveOf(open: OpenChange, parts: TackleParts): string | null {
  if (!saidOf(parts, partsOf.retrieve)) return null
  const found = retrievesListed(open.db).find((one) => sameParts(one.parts, parts, partsOf.retrieve))
  return found?.id ?? add(open, "retrieve", Retrieve.parse(parts))
}
const Retrieve = entities.retrieve.omit(stamps)

function save(open: OpenChange, wanted: TackleChange): void {
  const { db } = open
  switch (wanted.what) {
    case "lure_class": {
      const row = wantedRow(db, "lure_class", wanted.id)
      const other = classesListed(db).find(
        ({ id, name }) => id !== row.id && name.toLowerCase() === wanted.name.toLowerCase(),
      )
      if (other !== undefined) throw taken("lure class", wanted.name)
      put(open, "lure_class", { ...row, name: wanted.name })
      return
    }
    case "lure": {
      const row = wantedRow(db, "lure", wanted.id)
      const { name = row.name, price = row.price } = wanted
      put(open, "lure", { ...row, name, price })
      return
    }
    case "rig":
      put(open, "rig", { ...wantedRow(db, "rig", wanted.id), name: wanted.name })
      return
    case "presentation": {
      const row = wantedRow(db, "presentation", wanted.id)
      const { name = row.name, code, mark, retired } = wanted
      const codes = { code: tidy(code), mark: tidy(mark) }
      requireFreeName(db, name, row.id)
      requireCodes(open, row.id, codes)
      put(open, "presentation", {
        ...row,
        name,
        code: code === undefined ? row.code : codes.code,
        mark: mark === undefined ? row.mark : codes.mark,
        retired_at: retired === undefined ? row.retired_at : retired ? (row.retired_at ?? open.at) : null,
      })
      return
    }
    case "sink":
      saveSink(open, wanted)
      return
  }
}

function saveSink(
  open: OpenChange,
  { presentation, seconds, depth_m }: Extract<TackleChange, { what: "sink" }>,
): void {
  const { rig_id, lure_id } = wantedRow(open.db, "presentation", presentation)
  if (rig_id === null && lure_id === null)
    throw new ProblemError("bad_input", "Only a rig or a lure can sink: this presentation has neither.", {})
  const before = sinksMeasured(open.db).find(
    (sink) => sink.rig_id === rig_id && sink.lure_id === lure_id && sink.id !== rig_id,
  )
  const row = before === undefined ? null : rowById(open.db, "sink", before.id)
  if (seconds === null || depth_m === null) {
    if (row !== null) removeById(open, "sink", row.id)
  } else if (row === null) add(open, "sink", { rig_id, lure_id, seconds, depth_m })
  else put(open, "sink", { ...row, seconds, depth_m })
}

const taken = (what: string, name: string): ProblemError =>
  new ProblemError("bad_input", `There is a ${what} ${name} already. Choose another name.`, { name })

function requireFreeName(db: OpenChange["db"], name: string, id: string | null): void {
  const other = presentationsListed(db).find((row) => row.name.toLowerCase() === name.toLowerCase())
  if (other !== undefined && other.id !== id) throw taken("presentation", name)
}

/** A code or mark as it is kept: in small letters; null where the field was emptied. */
function tidy(typed: string | null | undefined): string | null {
  const text = typed?.trim().toLowerCase() ?? ""
  return text === "" ? null : text
}
