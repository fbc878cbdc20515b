import type { Keyed, PlacedSpot } from "./rows.ts"
import { inches } from "./tradeUnits.ts"

/** The invented people and spots of the sample, on the real coast of Georgia (US) between Sapelo Sound and Darien. */
export const zone = "America/New_York"

export type Angler = Keyed<"angler"> & {
  /** Strikes drawn beside those of a middling angler. */
  readonly skill: number
  /** The presentation he or she believes in, by key. */
  readonly favourite: string | null
}

const angler = (
  code: string,
  name: string,
  skill: number,
  favourite: string | null,
  notes: string,
): Angler => ({ key: `angler ${code}`, code, name, skill, favourite, notes })

export const guide = angler("nel", "Nell", 1.35, "presentation tw", "Guide. Keeps the book.")
export const owner = angler("tob", "Tobin", 1, "presentation ck", "Fishes his own days and some of Nell's.")
export const clients: readonly Angler[] = [
  angler("ada", "Adair", 0.75, null, "Client. Casts well, sets the hook late."),
  angler("bea", "Bea", 0.85, null, "Client. Patient with a cork."),
  angler("cor", "Corwin", 0.75, null, "Client. Never counts what he missed."),
  angler("del", "Della", 0.65, null, "Client. First season with a lure."),
  angler("eli", "Elis", 0.8, null, "Client. Likes to walk the marsh edge."),
]
/** The client on whose rod nobody knows how many strikes were missed. */
export const countsNoMisses = "angler cor"

export const anglers: readonly Angler[] = [guide, owner, ...clients]

export type Structure = "creek mouth" | "drain" | "shell rake" | "cordgrass edge" | "dock" | "inlet rocks"
export type Ground = "mud" | "shell" | "rock"

export type Spot = PlacedSpot & {
  readonly ground: Ground
  readonly structure: Structure
  readonly usual_depth_m: number
}

type Place = Pick<Spot, "lat" | "lon" | "ground" | "structure" | "usual_depth_m"> &
  Partial<Omit<Spot, "key" | "name" | "code" | "zone">>

/** Public tide station, 31.39 N 81.2883 W, in Doboy Sound; public current stations near by. */
const oldTower = "8675622"

const spot = (code: string, name: string, place: Place): Spot => ({
  tide_station: oldTower,
  current_station: null,
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
  ...place,
  key: `spot ${code}`,
  code,
  name,
  zone,
})

export const spots: readonly Spot[] = [
  spot("md", "Mill Drain", {
    lat: 31.402,
    lon: -81.331,
    ground: "mud",
    structure: "drain",
    usual_depth_m: 1.2,
    lag_high_min: 18,
    lag_low_min: 32,
    notes: "Empties late: low water here comes half an hour after the tower's.",
  }),
  spot("sb", "Shell Bend", {
    lat: 31.418,
    lon: -81.316,
    ground: "shell",
    structure: "shell rake",
    usual_depth_m: 1.1,
    current_station: "ACT7736",
    lag_high_min: 10,
    lag_low_min: 15,
  }),
  spot("nj", "North Rocks", {
    lat: 31.362,
    lon: -81.262,
    ground: "rock",
    structure: "inlet rocks",
    usual_depth_m: 3.4,
    current_station: "ACT7731",
    notes: "Inlet: swell and a strong ebb. Not on a falling tide against the wind.",
  }),
  spot("lr", "Long Rake", {
    lat: 31.377,
    lon: -81.301,
    ground: "shell",
    structure: "shell rake",
    usual_depth_m: 0.9,
  }),
  spot("sc", "Split Creek", {
    lat: 31.409,
    lon: -81.342,
    ground: "mud",
    structure: "creek mouth",
    usual_depth_m: 2.1,
    current_station: "ACT7761",
    slack_after_high_min: 38,
    slack_after_low_min: 24,
    slack_source: "Own watch of a float on eleven tides, 2023",
  }),
  spot("he", "Heron Edge", {
    lat: 31.396,
    lon: -81.352,
    ground: "mud",
    structure: "cordgrass edge",
    usual_depth_m: 0.8,
    lag_high_min: 20,
    lag_low_min: 35,
  }),
  spot("dd", "Dead Oak Dock", {
    lat: 31.372,
    lon: -81.4,
    ground: "mud",
    structure: "dock",
    usual_depth_m: 2.6,
    tide_station: "8675779",
    notes: "Private dock: keep a cast away from boats and people.",
  }),
  spot("gm", "Gannet Mouth", {
    lat: 31.437,
    lon: -81.308,
    ground: "mud",
    structure: "creek mouth",
    usual_depth_m: 2.4,
    current_station: "ACT7741",
    lag_high_min: 14,
    lag_low_min: 20,
  }),
  spot("ws", "West Spartina", {
    lat: 31.385,
    lon: -81.322,
    ground: "mud",
    structure: "cordgrass edge",
    usual_depth_m: 0.9,
  }),
  spot("od", "Oyster Drain", {
    lat: 31.426,
    lon: -81.329,
    ground: "shell",
    structure: "drain",
    usual_depth_m: 1.3,
    lag_high_min: 16,
    lag_low_min: 28,
  }),
]

export type Group = "spotted seatrout" | "red drum" | "southern flounder" | "others"

export type Species = Keyed<"species"> & { readonly group: Group }

const ownRule = {
  limit_source: "own rule of this boat",
  limit_date: "2023-01-01",
} as const

const species = (
  code: string,
  name: string,
  scientific_name: string,
  group: Group,
  more: Partial<Omit<Keyed<"species">, "key" | "name">> = {},
): Species => ({ length_type: "total", ...more, key: `species ${code}`, code, name, scientific_name, group })

export const seatrout = species("st", "spotted seatrout", "Cynoscion nebulosus", "spotted seatrout", {
  own_min_length_mm: inches(15),
  own_bag: 4,
  ...ownRule,
})
export const redDrum = species("rd", "red drum", "Sciaenops ocellatus", "red drum", {
  own_min_length_mm: inches(16),
  own_max_length_mm: inches(22),
  own_bag: 2,
  ...ownRule,
})
export const flounder = species("fl", "southern flounder", "Paralichthys lethostigma", "southern flounder", {
  own_min_length_mm: inches(14),
  own_bag: 2,
  ...ownRule,
})
const bluefish = species("bf", "bluefish", "Pomatomus saltatrix", "others", { length_type: "fork" })
const ladyfish = species("lf", "ladyfish", "Elops saurus", "others", { length_type: "fork" })
const weakfish = species("wf", "weakfish", "Cynoscion regalis", "others")
const blackDrum = species("bd", "black drum", "Pogonias cromis", "others")

export const allSpecies: readonly Species[] = [
  seatrout,
  redDrum,
  flounder,
  bluefish,
  ladyfish,
  weakfish,
  blackDrum,
]
export const groups: readonly Group[] = ["spotted seatrout", "red drum", "southern flounder", "others"]

/** How the strikes of a group are made up of species. */
export const shareInGroup: ReadonlyMap<Species, number> = new Map([
  [seatrout, 1],
  [redDrum, 1],
  [flounder, 1],
  [bluefish, 0.35],
  [ladyfish, 0.35],
  [weakfish, 0.15],
  [blackDrum, 0.15],
])
