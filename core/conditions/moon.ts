import { getMoonIllumination } from "suncalc"

/** How much of the moon's disc is lit, 0 to 1, and its phase angle: 0 at new moon, pi at full, 2 pi at the next new. */
export type Moon = { readonly moon_illum: number; readonly moon_phase_rad: number }

/** The moon at an instant in UTC ms; the same from everywhere on earth. Source: suncalc 2. */
export function moonAt(at: number): Moon {
  const { fraction, phase } = getMoonIllumination(new Date(at))
  return { moon_illum: fraction, moon_phase_rad: phase * 2 * Math.PI }
}
