import type { Season } from "./season.ts"

const USUAL: Season = {
  trips: 60,
  spread: 0.6,
  theta: 2,
  rate: 0.8,
  ratios: [1, 1],
  levelByTrip: 0,
  levels: "mixed",
}

/** Kinds of season looked at, each with what sets it apart from the usual one. */
export const SEASONS: readonly { readonly name: string; readonly season: Season }[] = [
  ...[8, 20, 60, 200].flatMap((trips) =>
    [0.2, 0.6, 1].map((spread) => ({ name: `spread ${spread}`, season: { ...USUAL, trips, spread } })),
  ),
  ...[20, 60].flatMap((trips) => [
    { name: "theta 0.7", season: { ...USUAL, trips, theta: 0.7 } },
    { name: "theta 20", season: { ...USUAL, trips, theta: 20 } },
    { name: "0.15 an hour", season: { ...USUAL, trips, rate: 0.15 } },
    { name: "2 an hour", season: { ...USUAL, trips, rate: 2 } },
    { name: "levels hardly mixed", season: { ...USUAL, trips, levels: "hardly mixed" as const } },
    { name: "changed when dry", season: { ...USUAL, trips, levels: "patient" as const } },
    { name: "a favourite, changed when dry", season: { ...USUAL, trips, levels: "favourite" as const } },
    { name: "a gives 1.6 times as much", season: { ...USUAL, trips, ratios: [1.6, 1] as const } },
  ]),
  ...[8, 20, 60, 200].flatMap((trips) => [
    { name: "levels vary by trip", season: { ...USUAL, trips, levelByTrip: 0.5 } },
    { name: "a level a trip", season: { ...USUAL, trips, levels: "apart" as const } },
  ]),
]
