import type { Keyed } from "./rows.ts"
import { inches } from "./tradeUnits.ts"

/** The lures of the sample, by class. */
export type LureClass =
  | "soft plastic on a jig head"
  | "popping-cork rig"
  | "suspending twitch bait"
  | "slow-sinking twitch bait"
  | "topwater walker"
  | "spoon"

const className = (code: string, name: LureClass): Keyed<"lure_class"> & { readonly name: LureClass } => ({
  key: `class ${code}`,
  code,
  name,
})

export const lureClasses = [
  className("jig", "soft plastic on a jig head"),
  className("cork", "popping-cork rig"),
  className("twitch", "suspending twitch bait"),
  className("slowtwitch", "slow-sinking twitch bait"),
  className("walker", "topwater walker"),
  className("spoon", "spoon"),
]

type LureRow = Keyed<"lure"> & { readonly name: string }
const lure = (code: string, classCode: string, row: Omit<LureRow, "key" | "lure_class_id">): LureRow => ({
  ...row,
  key: `lure ${code}`,
  lure_class_id: `class ${classCode}`,
})

const paddle = (code: string, name: string, colour: NonNullable<LureRow["colour"]>): LureRow =>
  lure(code, "jig", {
    name,
    profile: "paddle tail",
    lure_length_mm: inches(3.5),
    colour,
    scented: "no",
    lure_sound: "none",
    imitates: "mullet",
    price: 0.9,
  })

export const lures: readonly LureRow[] = [
  paddle("pn", "paddle tail, natural", "natural"),
  paddle("pd", "paddle tail, dark", "dark"),
  paddle("pl", "paddle tail, light", "light"),
  paddle("pb", "paddle tail, bright", "bright"),
  lure("sn", "cork", {
    name: "soft shrimp, natural",
    profile: "shrimp",
    lure_length_mm: inches(3),
    colour: "natural",
    scented: "yes",
    lure_sound: "none",
    imitates: "shrimp",
    price: 1.6,
  }),
  lure("sl", "cork", {
    name: "soft shrimp, light",
    profile: "shrimp",
    lure_length_mm: inches(3),
    colour: "light",
    scented: "yes",
    lure_sound: "none",
    imitates: "shrimp",
    price: 1.6,
  }),
  lure("tn", "twitch", {
    name: "suspending minnow, natural",
    profile: "minnow",
    lure_length_mm: 90,
    colour: "natural",
    scented: "no",
    lure_sound: "rattle",
    imitates: "mullet",
    price: 11,
  }),
  lure("tb", "twitch", {
    name: "suspending minnow, bright",
    profile: "minnow",
    lure_length_mm: 90,
    colour: "bright",
    scented: "no",
    lure_sound: "rattle",
    imitates: "mullet",
    price: 11,
  }),
  lure("ss", "slowtwitch", {
    name: "slow-sinking stick, two-tone",
    profile: "stick",
    lure_length_mm: 95,
    colour: "two-tone",
    scented: "no",
    lure_sound: "none",
    imitates: "mullet",
    price: 9.5,
  }),
  lure("wl", "walker", {
    name: "walker, light",
    profile: "cigar",
    lure_length_mm: 100,
    colour: "light",
    scented: "no",
    lure_sound: "knock",
    imitates: "mullet",
    price: 10.5,
  }),
  lure("wd", "walker", {
    name: "walker, dark",
    profile: "cigar",
    lure_length_mm: 100,
    colour: "dark",
    scented: "no",
    lure_sound: "none",
    imitates: "mullet",
    price: 10.5,
  }),
  lure("sp", "spoon", {
    name: "weedless spoon, gold",
    profile: "spoon",
    lure_length_mm: 64,
    colour: "metallic",
    scented: "no",
    lure_sound: "none",
    imitates: "menhaden",
    price: 6,
  }),
]
