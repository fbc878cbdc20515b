import { ReaderUnits } from "../../shared/readerUnits.ts"
import { SettingsChange } from "../../shared/settings.ts"
import { unitFor, units } from "../../shared/units.ts"
import { parse, type Values } from "./arguments.ts"
import type { Command } from "./command.ts"
import { readUnits } from "./readUnits.ts"
import { wrapText } from "./textTable.ts"
import { UsageError } from "./usage.ts"
import { withBook } from "./withBook.ts"

type Kind = keyof ReaderUnits
const kinds: readonly Kind[] = ReaderUnits.keyof().options
const flagOf = (kind: Kind): string => kind.replaceAll("_", "-")
const text = { type: "string" } as const
const flags = Object.fromEntries([...kinds.map(flagOf), "units", "home-zone"].map((flag) => [flag, text]))

/** `settings`: the units and the home zone that a logbook keeps; without options only told. */
export const settingsCommand: Command = async (args, context) => {
  const { file, values } = parse(args, ["FILE"], flags)
  return withBook(file, context, async (_, service) => {
    const standing = await service["settings.read"]({}, context)
    const change = changeOf(values, standing.units)
    const { act, ...settings } =
      Object.keys(change).length === 0
        ? { ...standing, act: null }
        : await service["settings.save"](change, context)
    return {
      json: { ...settings, act },
      text: (width) =>
        [
          ...wrapText(`Units: ${unitsText(settings.units)}.`, width),
          `Home zone: ${settings.home_zone ?? "none; what says no zone is read in UTC"}.`,
          ...(act === null ? [] : [`Changed. Undo: undo FILE ${act}`]),
        ].join("\n"),
    }
  })
}

const unitsText = (reader: ReaderUnits): string =>
  kinds.map((kind) => `${kind.replaceAll("_", " ")} ${units[reader[kind]].symbol}`).join(", ")

/** What the options change: a named set of units, then single choices; what neither names stays as it stands. */
function changeOf(values: Values, standing: ReaderUnits): SettingsChange {
  const preset = readUnits(values["units"])
  const single = kinds.flatMap((kind) => {
    const typed = values[flagOf(kind)]
    return typeof typed === "string" ? [[kind, unitNamed(kind, typed)] as const] : []
  })
  const zone = values["home-zone"]
  return {
    ...(preset === null && single.length === 0
      ? {}
      : { units: choose({ ...(preset ?? standing), ...Object.fromEntries(single) }) }),
    ...(typeof zone === "string" ? { home_zone: zone === "none" ? null : zone } : {}),
  }
}

/** A unit by any of its spellings ("F", "feet", "m/s"); what is none stays as typed, to be refused by name. */
const unitNamed = (kind: Kind, typed: string): string =>
  unitFor(typed, units[ReaderUnits.parse({})[kind]].dimension) ?? typed

function choose(wanted: unknown): ReaderUnits {
  const chosen = ReaderUnits.safeParse(wanted)
  if (chosen.success) return chosen.data
  throw new UsageError(chosen.error.issues.map(({ message }) => message).join(" "))
}
