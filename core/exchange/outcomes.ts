import type { Fate } from "../../shared/vocabulary.ts"
import type { Counts, SpeciesCounts } from "./draft.ts"

/** Strikes of one fate and species, so many times. */
export type Fated = { readonly fate: Fate; readonly species: string | null; readonly times: number }

/** What was being counted while the row was fished; false where the record does not say. */
export type Counted = { readonly misses: boolean; readonly losses: boolean; readonly landed: boolean }

/** The strikes that a row's counts stand for, and which outcomes are known from them. */
export type Outcomes = { readonly strikes: readonly Fated[]; readonly counted: Counted }

/**
 * Turns counts into strikes with fates. Zeros and equal ends fill the blanks between them; where less is known a strike
 * is `struck`, `hooked` or `not landed`; nothing is ever taken for zero. Known counts must hold
 * landed <= hook_ups <= strikes (checked where the row is read).
 */
export function outcomesOf(rows: readonly SpeciesCounts[]): Outcomes {
  const parts = splitBySpecies(rows)
  return {
    strikes: parts.flatMap((part) => part.strikes.filter((strike) => strike.times > 0)),
    counted: {
      misses: parts.every((part) => part.counted.misses),
      losses: parts.every((part) => part.counted.losses),
      landed: parts.every((part) => part.counted.landed),
    },
  }
}

/**
 * Strikes and hook-ups of all fish beside landed fish by species are one set of counts: the landed ones keep their
 * species. Otherwise each species' counts stand for themselves.
 */
function splitBySpecies(rows: readonly SpeciesCounts[]): Outcomes[] {
  const whole = rows.find((row) => row.species === null && row.landed === null)
  const split = rows.filter((row) => row !== whole)
  const onlyLanded = split.every((row) => row.strikes === null && row.hook_ups === null)
  if (whole === undefined || split.length === 0 || !onlyLanded)
    return rows.map((row) =>
      resolve(row, (times) => [{ fate: "landed", species: row.species, times }], row.species),
    )
  const named = split.map((row) => ({
    fate: "landed" as const,
    species: row.species,
    times: row.landed ?? 0,
  }))
  const landed = split.some((row) => row.landed === null)
    ? null
    : named.reduce((sum, { times }) => sum + times, 0)
  return [resolve({ ...whole, landed }, () => named, null)]
}

function resolve(counts: Counts, landedRows: (times: number) => Fated[], species: string | null): Outcomes {
  const { strikes, hook_ups, landed } = fillBetween(counts)
  const counted = {
    misses: strikes !== null,
    losses: hook_ups !== null || strikes !== null,
    landed: landed !== null || hook_ups !== null || strikes !== null,
  }
  const some = (fate: Fate, times: number): Fated => ({ fate, species, times })
  const known = landed === null ? [] : landedRows(landed)
  if (hook_ups !== null) {
    const hooked = landed === null ? some("hooked", hook_ups) : some("lost", hook_ups - landed)
    const missed = strikes === null ? [] : [some("missed", strikes - hook_ups)]
    return { strikes: [...known, hooked, ...missed], counted }
  }
  if (strikes === null) return { strikes: known, counted }
  const rest = landed === null ? some("struck", strikes) : some("not landed", strikes - landed)
  return { strikes: [...known, rest], counted }
}

function fillBetween({ strikes, hook_ups, landed }: Counts): Counts {
  const hooked = hook_ups ?? (strikes === 0 || (strikes !== null && strikes === landed) ? strikes : null)
  return { strikes, hook_ups: hooked, landed: landed ?? (hooked === 0 ? 0 : null) }
}
