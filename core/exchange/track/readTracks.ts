import { Temporal } from "temporal-polyfill"
import { SaxesParser, type SaxesTagPlain } from "saxes"
import type { ProblemError } from "../../../shared/problems.ts"
import type { TrackPoint } from "../../../shared/tracks.ts"
import type { Refusal, TableSource } from "../draft.ts"
import { headOf, piecesOf, unreadable } from "../read/source.ts"

/** A track as a file tells it, with all of its points, in stretches. */
export type ReadTrack = { name: string | null; readonly stretches: TrackPoint[][] }

/** A file of tracks, read. `notTaken` counts waypoints and routes. */
export type TrackFile = {
  readonly file: string
  readonly points: number
  readonly tracks: readonly ReadTrack[]
  readonly notTaken: number
  /** Points whose time has no offset, and so is taken as UTC. */
  readonly withoutOffset: number
  readonly refusals: readonly Refusal[]
}

/** More than a year at a point a second while afloat; no recorder keeps so many in one file. */
const mostPoints = 2_000_000
const deepest = 32
const longestText = 4096
const longestName = 200
/** Characters between two tags: no track has a comment, text or tag so long. */
const longestQuiet = 1024 * 1024
/** A record silent for longer is broken off there: where the boat went meanwhile is not known. Ours, no source. */
const silentMs = 10 * 60_000
const dayMs = 86_400_000

/** Whether the file begins like GPX: XML whose first element is `gpx`. */
export async function isTrackFile(source: TableSource): Promise<boolean> {
  const head = await headOf(source, 4096)
  const text = new TextDecoder(encodingOf(head)).decode(head)
  return /^\s*(<\?xml[^>]*>\s*)?(<!--[^]*?-->\s*)*<(\w+:)?gpx[\s>]/.test(text)
}

/**
 * Reads the tracks of GPX files (versions 1.0 and 1.1, the schemas of topografix.com): every `trk` with its `trkseg`, each point
 * with its time, which the schema says is UTC where no offset stands. Points that cannot be taken are refused with line and
 * reason, the others kept. Throws ProblemError "table_unreadable" for XML that is damaged, too deep, or brings a document type of its
 * own, which no track needs and which could unfold without end; and "cancelled".
 */
export async function readTracks(
  sources: readonly TableSource[],
  now: number,
  signal?: AbortSignal,
): Promise<TrackFile[]> {
  const files: TrackFile[] = []
  for (const source of sources) files.push(await readFile(source, now, signal))
  return files
}

async function readFile(
  source: TableSource,
  now: number,
  signal: AbortSignal | undefined,
): Promise<TrackFile> {
  const reader = new Reader(source.name, now)
  const decoder = new TextDecoder(encodingOf(await headOf(source, 256)), { fatal: true })
  const decode = (piece?: Uint8Array): string => {
    try {
      return piece === undefined ? decoder.decode() : decoder.decode(piece, { stream: true })
    } catch (error) {
      if (!(error instanceof TypeError)) throw error
      throw reader.damaged(`what follows is not ${decoder.encoding}; save it as UTF-8`)
    }
  }
  for await (const piece of piecesOf(source, signal)) reader.write(decode(piece))
  reader.write(decode())
  return reader.end()
}

/** By the byte order mark, else by the declaration where it names Latin letters, else UTF-8, as XML has it. */
function encodingOf(head: Uint8Array): string {
  if (head[0] === 0xff && head[1] === 0xfe) return "utf-16le"
  if (head[0] === 0xfe && head[1] === 0xff) return "utf-16be"
  const declared = /^<\?xml[^>]*\sencoding=["'](iso-8859-1|windows-1252|us-ascii)["']/i
  return declared.test(new TextDecoder("latin1").decode(head)) ? "windows-1252" : "utf-8"
}

type Point = { readonly line: number; readonly lat: string; readonly lon: string; time: string | null }

class Reader {
  readonly #file: string
  readonly #latest: number
  readonly #parser = new SaxesParser()
  readonly #path: string[] = []
  readonly #tracks: ReadTrack[] = []
  readonly #refusals: Refusal[] = []
  #stretch: TrackPoint[] = []
  #point: Point | null = null
  #text = ""
  #quiet = 0
  #ending = false
  #withoutOffset = 0
  #points = 0
  #notTaken = 0

  constructor(file: string, now: number) {
    this.#file = file
    this.#latest = now + dayMs
    this.#parser.on("error", () => {
      throw this.damaged(
        this.#ending ? "the file ends too early; save it again" : "that is no well-formed XML; save it again",
      )
    })
    this.#parser.on("doctype", () => {
      throw this.damaged("it brings a document type of its own, which is not read; save it as plain GPX")
    })
    this.#parser.on("opentag", (tag) => this.#open(tag))
    this.#parser.on("text", (text) => {
      if (this.#text.length < longestText) this.#text += text
    })
    this.#parser.on("cdata", (text) => {
      if (this.#text.length < longestText) this.#text += text
    })
    this.#parser.on("closetag", ({ name }) => this.#close(localName(name)))
  }

  write(piece: string): void {
    this.#quiet += piece.length
    this.#parser.write(piece)
    if (this.#quiet > longestQuiet)
      throw this.damaged("there is no end to what stands there; no track looks so")
  }

  end(): TrackFile {
    this.#ending = true
    this.#parser.close()
    return {
      file: this.#file,
      points: this.#points,
      tracks: this.#tracks.filter(({ stretches }) => stretches.length > 0),
      notTaken: this.#notTaken,
      withoutOffset: this.#withoutOffset,
      refusals: this.#refusals,
    }
  }

  /** What is wrong where the reader stands. */
  damaged(what: string): ProblemError {
    const { line, column } = this.#parser
    return unreadable(this.#file, `line ${line}, column ${column + 1}: ${what}.`, {
      line,
      column: column + 1,
    })
  }

  #open({ name, attributes }: SaxesTagPlain): void {
    const own = localName(name)
    this.#quiet = 0
    this.#path.push(own)
    if (this.#path.length > deepest) throw this.damaged(`elements lie more than ${deepest} deep`)
    this.#text = ""
    if (own === "trk") this.#tracks.push({ name: null, stretches: [] })
    else if (own === "wpt" || own === "rte") this.#notTaken++
    else if (own === "trkpt" && this.#within("trkseg")) {
      if (++this.#points > mostPoints)
        throw this.damaged("it has more than two million points; split the file")
      this.#point = {
        line: this.#parser.line,
        lat: attributes["lat"] ?? "",
        lon: attributes["lon"] ?? "",
        time: null,
      }
    }
  }

  /** Whether the element just opened, or just being closed, lies directly in such a one. */
  #within(parent: string): boolean {
    return this.#path.at(-2) === parent
  }

  #close(own: string): void {
    const text = this.#text.trim()
    this.#quiet = 0
    this.#text = ""
    const track = this.#tracks.at(-1)
    if (own === "time" && this.#within("trkpt") && this.#point !== null) this.#point.time = text
    else if (own === "name" && this.#within("trk") && track !== undefined && text !== "")
      track.name = text.slice(0, longestName)
    else if (own === "trkpt" && this.#point !== null) {
      this.#take(this.#point)
      this.#point = null
    } else if (own === "trkseg") this.#endStretch()
    this.#path.pop()
  }

  #endStretch(): void {
    if (this.#stretch.length > 1) this.#tracks.at(-1)?.stretches.push(this.#stretch)
    this.#stretch = []
  }

  #take({ line, lat, lon, time }: Point): void {
    const refuse = (column: string, value: string, reason: string) =>
      this.#refusals.push({ file: this.#file, line, column, value: value.slice(0, 60), reason })
    const [north, east] = [decimal(lat), decimal(lon)]
    const at = time === null || time === "" ? null : this.#instantOf(time)
    if (!(Math.abs(north) <= 90)) refuse("lat", lat, "not a latitude between -90 and 90")
    else if (!(east >= -180 && east < 180)) refuse("lon", lon, "not a longitude from -180 to below 180")
    else if (at !== null && Number.isNaN(at))
      refuse("time", time ?? "", "not a time like 2026-10-12T11:20:00Z")
    else if (at !== null && at > this.#latest) refuse("time", time ?? "", "its time lies in the future")
    else {
      const before = this.#stretch.at(-1)?.[2] ?? null
      if (before !== null && at !== null && at - before > silentMs) this.#endStretch()
      this.#stretch.push([east, north, at])
    }
  }

  /** An xsd:dateTime as UTC ms, taken as UTC where it has no offset; NaN for other text. */
  #instantOf(text: string): number {
    const bare = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?$/.test(text)
    try {
      const { epochMilliseconds } = Temporal.Instant.from(bare ? `${text}Z` : text)
      if (bare) this.#withoutOffset++
      return epochMilliseconds
    } catch (error) {
      if (error instanceof RangeError) return Number.NaN
      throw error
    }
  }
}

const localName = (name: string): string => name.slice(name.indexOf(":") + 1)

/** A decimal number; NaN for other text. */
const decimal = (text: string): number =>
  /^\s*[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?\s*$/.test(text) ? Number(text) : Number.NaN
