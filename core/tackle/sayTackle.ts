import { factorOf } from "../../shared/factors.ts"
import { quantityText, type ReaderUnits } from "../../shared/readerUnits.ts"
import type { TacklePart, TackleParts } from "../../shared/tackle.ts"
import { partsOf } from "../../shared/tackle.ts"

/** A quantity of tackle, without a decimal that says nothing: 30 in, not 30.0 in. */
const amountText = (value: number, unit: "g" | "mm" | "n", reader: ReaderUnits): string =>
  quantityText(value, unit, reader).replace(/\.0+(?= )/, "")

/** One part in words, in the reader's units: "1/4 oz head", "short shank". */
export function sayPart(part: TacklePart, value: string | number, reader: ReaderUnits): string {
  switch (part) {
    case "head_weight_g":
      return `${amountText(Number(value), "g", reader)} head`
    case "lure_length_mm":
      return amountText(Number(value), "mm", reader)
    case "cork_drop_mm":
      return `${amountText(Number(value), "mm", reader)} drop`
    case "leader_length_mm":
      return `${amountText(Number(value), "mm", reader)} leader`
    case "leader_strength_n":
      return `${amountText(Number(value), "n", reader)} leader`
    case "actions_per_cycle":
      return Number(value) === 1 ? "1 action" : `${value} actions`
    case "pause_s":
      return `${value} s pause`
    case "hook_shank":
      return `${value} shank`
    case "hook_style":
      return `${value} hook`
    case "cork_shape":
      return `${value} cork`
    case "cork_sound":
      return `${value} cork sound`
    case "lure_sound":
      return `sound: ${value}`
    case "imitates":
      return `imitates ${value}`
    case "scented":
      return value === "yes" ? "scented" : "unscented"
    case "bait":
      return value === "none" ? "no bait" : value === "tipped" ? "tipped with bait" : `${value} bait`
    case "sink":
      return value === "slow" || value === "fast" ? `sinks ${value}` : String(value)
    case "pace":
      return `${value} pace`
    case "rhythm":
      return `${value} rhythm`
    case "line":
      return `${value} line`
    case "lure_class":
    case "lure":
    case "profile":
    case "colour":
    case "retrieve_style":
    case "water_column":
      return String(value)
  }
}

/** One part as it is typed again, in the reader's units: "1/4 oz", "short"; nothing where it is not said. */
export function partText(part: TacklePart, value: string | number | null, reader: ReaderUnits): string {
  const factor = factorOf(part)
  if (typeof value !== "number" || factor.kind === "categorical" || factor.unit === null)
    return value === null ? "" : String(value)
  return quantityText(value, factor.unit, reader).replace(/\.0+(?= )/, "")
}

/** A presentation in words: its lure; its rig; its retrieve. */
export const sayTackle = (parts: TackleParts, reader: ReaderUnits): string =>
  [partsOf.lure, partsOf.rig, partsOf.retrieve]
    .map((group) =>
      group
        .flatMap((part) => {
          const value = parts[part]
          return value === null ? [] : [sayPart(part, value, reader)]
        })
        .join(", "),
    )
    .filter((words) => words !== "")
    .join("; ")

/** What a presentation is called unless its user says otherwise: what tells it from its like. */
export function nameOfTackle(parts: TackleParts, reader: ReaderUnits): string {
  const called = parts.lure ?? parts.profile ?? parts.lure_class
  const named = called === parts.lure && called !== null
  const words = [
    called,
    named ? null : parts.colour,
    parts.head_weight_g === null ? null : amountText(parts.head_weight_g, "g", reader),
    parts.hook_shank === "long" ? "long shank" : null,
    parts.cork_drop_mm === null ? null : sayPart("cork_drop_mm", parts.cork_drop_mm, reader),
    parts.retrieve_style,
    parts.actions_per_cycle === null || parts.pause_s === null
      ? null
      : `${parts.actions_per_cycle}x${parts.pause_s} s`,
  ].filter((word) => word !== null)
  return words.length === 0 ? "presentation" : words.join(", ")
}
