/**
 * Zones of salinity, each up to `below` psu, and what they are to everybody. Source: Venice System (1958), Symposium on the
 * Classification of Brackish Waters, Arch. Oceanogr. Limnol. 11 suppl. (from memory).
 */
export const salinityZones = [
  { zone: "limnetic", below: 0.5, plain: "fresh" },
  { zone: "oligohaline", below: 5, plain: "brackish" },
  { zone: "mesohaline", below: 18, plain: "brackish" },
  { zone: "polyhaline", below: 30, plain: "brackish" },
  { zone: "euhaline", below: 40, plain: "sea water" },
  { zone: "hyperhaline", below: Infinity, plain: "saltier than the sea" },
] as const

/** Salinities from the least to the most in words: "brackish (mesohaline)", "brackish to sea water (polyhaline to euhaline)". */
export function salinityWords(least: number, most = least): string {
  const zones = [least, most].flatMap((psu) => salinityZones.find(({ below }) => psu < below) ?? [])
  const told = (words: readonly string[]) => [...new Set(words)].join(" to ")
  return `${told(zones.map(({ plain }) => plain))} (${told(zones.map(({ zone }) => zone))})`
}
