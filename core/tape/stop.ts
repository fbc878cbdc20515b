import type { DayStop } from "../../shared/day.ts"
import { platforms } from "../../shared/vocabulary.ts"
import { type ClockText, readClock } from "./clock.ts"
import { type Names, named } from "./names.ts"
import { part, type Piece, quoted, splitAt, unquoted, Unreadable } from "./piece.ts"
import { fixedWord } from "./word.ts"

/** When a stop was reached or left, as typed; null is unknown. */
export type TypedClock = { readonly piece: Piece; readonly clock: ClockText | null }

/** A spot as a line names it, with what it says of the stop. */
export type PlaceToken = {
  readonly spot_id: string | null
  readonly again: boolean
  /** The stop by its number in the day, from 1, where several could be meant. */
  readonly number: number | null
  readonly says: Partial<Pick<DayStop, "platform" | "label" | "ground" | "structure" | "why_left">>
  readonly arrive: TypedClock | null
  readonly leave: TypedClock | null
}

const head = (text: string): string => /^(?:\[(?:[^\]]|\]\])*\]|[^/]*)/u.exec(text)?.[0] ?? ""

/** Whether a token names a spot at its head. */
export function isPlace({ text }: Piece, names: Names): boolean {
  const code = head(text)
  return code === "[]" || names.find(code)?.kind === "spot"
}

const keys = ["arrive", "leave", "left", "ground", "structure", "label"] as const

/** `md/anchored/left="wind"`: a spot's code, and after slashes what is said of the stop. Throws Unreadable. */
export function readPlace(piece: Piece, names: Names): PlaceToken {
  const code = head(piece.text)
  const spot_id = code === "[]" ? null : named(part(piece, 0, code.length), ["spot"], names).id
  const says: Record<string, string> = {}
  const clocks: { arrive: TypedClock | null; leave: TypedClock | null } = { arrive: null, leave: null }
  let again = false
  let number: number | null = null
  const [, ...suffixes] = splitAt(part(piece, code.length), (letter) => letter === "/")
  for (const suffix of suffixes) {
    const [, key = "", value] = /^([\p{L}]+)=([\s\S]*)$/u.exec(suffix.text) ?? []
    const text = value === undefined ? "" : unquoted(value)
    if (suffix.text === "new") again = true
    else if (value === undefined) says["platform"] = fixedWord(suffix, platforms, "Fished from")
    else if (key === "stop" && /^\d+$/.test(value)) number = Number(value)
    else if (key === "arrive" || key === "leave")
      clocks[key] = readWhen(part(suffix, suffix.text.length - value.length))
    else if (text === "" || !keys.some((known) => known === key))
      throw new Unreadable(suffix, `Of a stop one may say ${keys.map((known) => `${known}=`).join(", ")}.`)
    else says[key === "left" ? "why_left" : key] = text
  }
  const platform = platforms.find((word) => word === says["platform"])
  return {
    spot_id,
    again,
    number,
    ...clocks,
    says: {
      ...(platform === undefined ? {} : { platform }),
      ...(says["label"] === undefined ? {} : { label: says["label"] }),
      ...(says["ground"] === undefined ? {} : { ground: says["ground"] }),
      ...(says["structure"] === undefined ? {} : { structure: says["structure"] }),
      ...(says["why_left"] === undefined ? {} : { why_left: says["why_left"] }),
    },
  }
}

function readWhen(piece: Piece): TypedClock {
  if (piece.text === "?") return { piece, clock: null }
  const clock = readClock(piece.text)
  if (clock === null) throw new Unreadable(piece, `"${piece.text}" is no clock.`)
  return { piece, clock }
}

/** A stop as typed; `times` are the clocks that do not follow from its stints, empty where they do. */
export function placeText(
  stop: DayStop,
  which: { readonly again: boolean; readonly number: number | null },
  times: { readonly arrive: string; readonly leave: string },
  names: Names,
): string {
  const code = stop.spot_id === null ? "[]" : names.textOf("spot", stop.spot_id)
  const value = (key: string, text: string | null): string => (text === null ? "" : `/${key}=${quoted(text)}`)
  return [
    code,
    which.again ? "/new" : "",
    which.number === null ? "" : `/stop=${which.number}`,
    stop.platform === null ? "" : `/${stop.platform}`,
    value("label", stop.label),
    value("ground", stop.ground),
    value("structure", stop.structure),
    times.arrive === "" ? "" : `/arrive=${times.arrive}`,
    times.leave === "" ? "" : `/leave=${times.leave}`,
    value("left", stop.why_left),
  ].join("")
}

/** Whether a place as typed may be the stop that is there already: the same spot, and nothing said otherwise. */
export const isSameStop = (stop: DayStop, { spot_id, again, says }: PlaceToken): boolean =>
  !again &&
  stop.spot_id === spot_id &&
  (["platform", "label", "ground", "structure", "why_left"] as const).every(
    (column) => says[column] === undefined || stop[column] === null || stop[column] === says[column],
  )
