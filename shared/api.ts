import { z } from "zod"
import { Told } from "./answer.ts"
import { ReaderUnits } from "./readerUnits.ts"
import { Backup, DeskState, fileName, mostUploadBytes, Preferences, PreferencesChange } from "./desk.ts"
import { anglerMethods } from "./anglers.ts"
import { codeMethods } from "./codes.ts"
import { dayMethods } from "./day.ts"
import { fishMethods } from "./fish.ts"
import { fishListMethods } from "./fishList.ts"
import { pieceMethods } from "./pieces.ts"
import { Act, historyMethods } from "./history.ts"
import { ImportDone, ImportPlanReport, ImportSettings, PastImport, TakenBack } from "./imports.ts"
import {
  Box,
  CoastLand,
  OwnStation,
  Spot,
  SpotChange,
  SpotListed,
  StationSeen,
  StationSource,
} from "./places.ts"
import { AskInUnits } from "./questions.ts"
import { logMethods } from "./runningLog.ts"
import { savedQuestionMethods } from "./savedQuestions.ts"
import { LogbookSettings, SettingsChange } from "./settings.ts"
import { Caution, SkyAsk, SkyTold } from "./sky.ts"
import { sheetMethods } from "./sheet.ts"
import { tackleMethods } from "./tackle.ts"
import { tripActMethods } from "./tripActs.ts"
import { cardMethods } from "./tripCard.ts"
import { trackMethods } from "./tracks.ts"
import { DayStrip, TripListed, TripPage } from "./trips.ts"

/** What a handler may do besides answering. */
export type CallContext = {
  readonly signal: AbortSignal
  progress(done: number, of: number): void
}

const bytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array)
/** A file crosses every boundary as its name and its bytes, never as a path. */
const NamedBytes = z.object({ name: z.string().min(1), bytes })
/** A file to be read: in one piece, or as an upload that came in pieces before. */
const Incoming = z.union([NamedBytes, z.object({ upload: z.string() })])
const nothing = z.object({})

const LogbookInfo = z.object({
  file: z.string(),
  read_only: z.boolean(),
  /** Whether it is the made-up sample. */
  sample: z.boolean(),
  trips: z.int(),
  stops: z.int(),
  stints: z.int(),
  strikes: z.int(),
  /** Stints whose tide, light and moon are still being worked out. */
  conditions_behind: z.int(),
  batches: z.array(PastImport),
})

/** An act of the user's by its id in the history, with which it can be undone. */
const act = z.string().min(1)

/** What a look through the file found: an empty list is a sound file. */
const LogbookCheck = z.object({ ok: z.boolean(), findings: z.array(z.string()) })

const ofBook = {
  "logbook.info": { input: nothing, output: LogbookInfo },
  "logbook.check": { input: nothing, output: LogbookCheck },
  "logbook.back_up": { input: nothing, output: z.object({ file: z.string() }) },
  "import.preview": {
    input: z.object({ files: z.array(Incoming).min(1), settings: ImportSettings }),
    output: ImportPlanReport,
  },
  "import.commit": {
    input: z.object({ files: z.array(Incoming).min(1), settings: ImportSettings }),
    output: ImportDone,
  },
  /** The refused rows of such an import as tables to mend and import again: their cells, and why each was refused. */
  "import.refused": {
    input: z.object({ files: z.array(Incoming).min(1), settings: ImportSettings }),
    output: z.object({ files: z.array(NamedBytes) }),
  },
  "import.take_back": {
    input: z.object({ batch: z.string().min(1), edited_too: z.boolean().default(false) }),
    output: TakenBack,
  },
  "export.tables": {
    input: z.object({ coordinates: z.boolean().default(false) }),
    output: z.object({ files: z.array(NamedBytes) }),
  },
  "spots.list": { input: nothing, output: z.array(SpotListed) },
  "spots.save": {
    input: SpotChange,
    /** `stints`: how many have this spot, and so get their conditions worked out again where place or station moved. */
    output: z.object({ spot: Spot, act, stints: z.int() }),
  },
  /** The land inside a box, at 1:10 million: to find one's way among spots, not for navigation. */
  "coast.land": { input: Box, output: CoastLand },
  "stations.near": {
    input: z.object({
      lat: z.number().min(-90).max(90),
      lon: z.number().min(-180).max(180),
      count: z.int().min(1).max(50).default(5),
    }),
    output: z.object({ tide: z.array(StationSeen), current: z.array(StationSeen) }),
  },
  "stations.save": {
    input: OwnStation,
    output: z.object({ id: z.string(), act, cautions: z.array(Caution) }),
  },
  "stations.source": { input: nothing, output: StationSource },
  "conditions.at": { input: SkyAsk, output: SkyTold },
  /** Waits until all conditions are worked out. They are anyway, in the background, after every change. */
  "conditions.settled": { input: nothing, output: z.object({ conditions_behind: z.int() }) },
  "settings.read": { input: nothing, output: LogbookSettings },
  "settings.save": {
    input: SettingsChange,
    /** `act` is null where all stood so already. */
    output: LogbookSettings.extend({ act: act.nullable() }),
  },
  /** The latest acts, newest first. */
  "history.list": {
    input: z.object({ count: z.int().min(1).max(50).default(10) }),
    output: z.array(Act),
  },
  "history.undo": { input: z.object({ act }), output: z.object({ act, said: z.string(), rows: z.int() }) },
  "questions.ask": { input: AskInUnits, output: Told },
  /** What a question may be narrowed to: species by name, and the levels of the factors one usually keeps to. */
  "questions.choices": {
    input: nothing,
    output: z.object({
      species: z.array(z.string()),
      levels: z.array(z.object({ factor: z.string(), levels: z.array(z.string()) })),
    }),
  },
  ...savedQuestionMethods,
  "trips.list": { input: nothing, output: z.array(TripListed) },
  "trips.strips": {
    input: z.object({ trips: z.array(z.string()).max(100) }),
    output: z.record(z.string(), DayStrip.nullable()),
  },
  "trips.page": { input: z.object({ trip: z.string() }), output: TripPage },
  "backups.list": { input: nothing, output: z.array(Backup) },
  ...codeMethods,
  ...dayMethods,
  ...sheetMethods,
  ...tripActMethods,
  ...historyMethods,
  ...logMethods,
  ...fishMethods,
  ...fishListMethods,
  ...pieceMethods,
  ...cardMethods,
  ...tackleMethods,
  ...anglerMethods,
  ...trackMethods,
} as const

/** What can be called whether or not a logbook is open. */
const ofDesk = {
  "desk.state": { input: nothing, output: DeskState },
  "desk.open": { input: z.object({ name: fileName }), output: DeskState },
  /** The units are those the new logbook's user reads, metric if left out. */
  "desk.new": { input: z.object({ name: fileName, units: ReaderUnits.optional() }), output: DeskState },
  /** Opens the sample, made first, in these units, where there is none. */
  "desk.sample": { input: z.object({ units: ReaderUnits.optional() }), output: DeskState },
  "desk.close": { input: nothing, output: DeskState },
  /** The backups of a logbook in the folder, open or not, newest first. */
  "desk.backups": { input: z.object({ logbook: fileName }), output: z.array(Backup) },
  /** Puts a backup in the place of a logbook, by default of the open one, and opens it; what stood there is kept beside it. */
  "desk.restore": {
    input: z.object({ name: fileName, logbook: fileName.nullable().default(null) }),
    output: DeskState.extend({ kept_as: z.string() }),
  },
  "desk.preferences": { input: nothing, output: Preferences },
  "desk.prefer": { input: PreferencesChange, output: Preferences },
  /** The local log, without coordinates, to be copied where something failed. */
  "desk.log": { input: nothing, output: z.object({ text: z.string() }) },
  "upload.begin": {
    input: z.object({ name: fileName, bytes: z.int().nonnegative().max(mostUploadBytes) }),
    output: z.object({ upload: z.string() }),
  },
  "upload.piece": {
    input: z.object({ upload: z.string(), at: z.int().nonnegative(), bytes }),
    output: nothing,
  },
  "upload.drop": { input: z.object({ upload: z.string() }), output: nothing },
} as const

const declared = { ...ofBook, ...ofDesk }

export type MethodName = keyof typeof declared
/** Methods of an open logbook. */
export type BookMethod = keyof typeof ofBook
/** Methods of the desk it lies on. */
export type DeskMethod = keyof typeof ofDesk

type Types = {
  [M in MethodName]: {
    passed: z.input<(typeof declared)[M]["input"]>
    parsed: z.output<(typeof declared)[M]["input"]>
    output: z.output<(typeof declared)[M]["output"]>
  }
}

/** The whole surface: what can be called, with what, and what comes back. Problems may come back from any of them. */
export const api: {
  readonly [M in MethodName]: {
    readonly input: z.ZodType<Types[M]["parsed"], Types[M]["passed"]>
    readonly output: z.ZodType<Types[M]["output"]>
  }
} = declared

/** What a caller passes: defaults may be left out. */
export type Input<M extends MethodName> = Types[M]["passed"]
/** What a handler gets: parsed, with its defaults. */
export type Parsed<M extends MethodName> = Types[M]["parsed"]
export type Output<M extends MethodName> = Types[M]["output"]
type HandlersOf<K extends MethodName> = {
  readonly [M in K]: (input: Parsed<M>, context: CallContext) => Promise<Output<M>>
}
export type Handlers = HandlersOf<MethodName>
export type BookHandlers = HandlersOf<BookMethod>
export type DeskHandlers = HandlersOf<DeskMethod>

const isBookMethod = (name: string): name is BookMethod => name in ofBook

/** Handlers for every method of a logbook, each made from its name alone. */
export function bookHandlersBy(
  make: <M extends BookMethod>(method: M) => (input: Parsed<M>, context: CallContext) => Promise<Output<M>>,
): BookHandlers
export function bookHandlersBy(make: (method: BookMethod) => unknown): object {
  return Object.fromEntries(
    Object.keys(ofBook)
      .filter(isBookMethod)
      .map((method) => [method, make(method)]),
  )
}
