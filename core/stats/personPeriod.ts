/** Time at risk until a first event, each spell in its own row: how long it lasted, when its first event came (NaN where none
 *  came before it ended), and how many units were at risk side by side. */
export type Spells = {
  readonly duration: Float64Array
  readonly firstEvent: Float64Array
  readonly units: Float64Array
}

export type PersonPeriods = {
  /** Which spell a row belongs to. */
  readonly spell: Int32Array
  /** Time since the spell began at which the row's interval begins. */
  readonly begins: Float64Array
  /** Length of the interval times the units at risk. */
  readonly exposure: Float64Array
  /** 1 in the interval that holds the first event, else 0. */
  readonly event: Float64Array
}

/** An interval must hold more than this share of its length: three times 0.1 is a little more than 0.3 in doubles. */
const ROUNDING = 1e-9

/** One row for each interval of each spell, from its beginning up to and with the interval that holds the first event, or to
 *  its end; the last interval may be shorter. With log exposure as offset, a complementary log-log fit of `event` estimates
 *  ratios of hazards; a spell that ended for reasons of its own is only censored. An event at the very end of an interval
 *  belongs to it, and an interval in which the event falls counts whole.
 *
 *  RangeError for a duration or units not above 0, or an event outside its spell. Sources: Prentice & Gloeckler (1978)
 *  Biometrics 34:57-67; Allison (1982) Sociological Methodology 13:61-98 (both from memory). */
export function personPeriods({ duration, firstEvent, units }: Spells, interval: number): PersonPeriods {
  requireSpells(duration, firstEvent, units, interval)
  const rowsOf = (i: number): number => {
    const end = duration[i] ?? 0
    const event = firstEvent[i] ?? NaN
    return Math.max(1, Math.ceil((Number.isNaN(event) ? end : event) / interval - ROUNDING))
  }
  let rows = 0
  for (let i = 0; i < duration.length; i++) rows += rowsOf(i)
  const spell = new Int32Array(rows)
  const begins = new Float64Array(rows)
  const exposure = new Float64Array(rows)
  const event = new Float64Array(rows)
  let row = 0
  for (let i = 0; i < duration.length; i++) {
    const count = rowsOf(i)
    const last = Number.isNaN(firstEvent[i] ?? NaN) ? -1 : count - 1
    for (let k = 0; k < count; k++, row++) {
      spell[row] = i
      begins[row] = k * interval
      exposure[row] = Math.min(interval, (duration[i] ?? 0) - k * interval) * (units[i] ?? 0)
      event[row] = k === last ? 1 : 0
    }
  }
  return Object.freeze({ spell, begins, exposure, event })
}

function requireSpells(
  duration: Float64Array,
  firstEvent: Float64Array,
  units: Float64Array,
  interval: number,
): void {
  if (!(interval > 0 && interval < Infinity))
    throw new RangeError(`Spells are cut at an interval above 0; it was given ${interval}.`)
  if (duration.length !== firstEvent.length || duration.length !== units.length) {
    throw new RangeError(
      `Each spell needs a duration, an event and units; there are ${duration.length}, ${firstEvent.length} and ${units.length}.`,
    )
  }
  duration.forEach((length, i) => {
    const atRisk = units[i] ?? NaN
    const event = firstEvent[i] ?? NaN
    if (!(length > 0 && length < Infinity))
      throw new RangeError(`A spell must last longer than 0; it was given ${length}.`)
    if (!(atRisk > 0 && atRisk < Infinity))
      throw new RangeError(`A spell needs units at risk above 0; it was given ${atRisk}.`)
    if (event < 0 || event > length)
      throw new RangeError(`A first event must lie within its spell of ${length}; it was given ${event}.`)
  })
}
