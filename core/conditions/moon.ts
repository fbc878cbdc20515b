import { getMoonIllumination, getMoonPosition, getPosition } from "suncalc"
import { tabulated } from "./tabulated.ts"

/**
 * How much of the moon's disc is lit, 0 to 1, and how far round it is: 0 at new moon, pi/2 at first quarter, pi at full,
 * below 2 pi.
 */
export type Moon = { readonly moon_illum: number; readonly moon_phase_rad: number }

/** The moon at an instant in UTC ms; the same from everywhere on earth. Source: suncalc 2, and `elongation`. */
export function moonAt(at: number): Moon {
  return {
    moon_illum: Math.min(1, Math.max(0, illumination(at))),
    moon_phase_rad: round(meanElongation(at) + inequality(at)),
  }
}

const dayMs = 86_400_000
/** Mean days from new moon to new moon. Source: Meeus (1998) Astronomical Algorithms, chapter 49 (from memory). */
const synodicDays = 29.530588861
const turn = 2 * Math.PI

const illumination = tabulated((at) => getMoonIllumination(new Date(at)).fraction)

/** The elongation of a moon that goes evenly, radians, growing; the first new moon of 2000 as in Meeus, chapter 49. */
const meanElongation = (at: number): number =>
  ((at - Date.UTC(2000, 0, 6, 14, 20)) / dayMs / synodicDays) * turn

/** How far the moon is ahead of that even one, radians; it stays within 0.2. */
const inequality = tabulated((at) => {
  const ahead = round(elongation(at) - meanElongation(at))
  return ahead > Math.PI ? ahead - turn : ahead
})

/**
 * Days since the last new moon, 0 to below 29.9. A month of phases is up to 7 hours longer or shorter than the mean and
 * the moon goes unevenly, so the instant of that new moon is found instead of stretching the phase.
 */
export function moonAge(at: number): number {
  let age = (elongation(at) / turn) * synodicDays
  for (let step = 0; step < 12; step++) {
    const past = elongation(at - age * dayMs)
    age += ((past > Math.PI ? past - turn : past) / turn) * synodicDays
  }
  return Math.max(0, age)
}

/** Kilometres between the centres of earth and moon at an instant in UTC ms. Source: suncalc 2. */
export const moonDistance = (at: number): number => getMoonPosition(new Date(at), 0, 0).distance

const degrees = Math.PI / 180
const round = (angle: number): number => ((angle % turn) + turn) % turn

/**
 * How far the moon is ahead of the sun in apparent ecliptic longitude, 0 to below 2 pi: the quantity whose quarters define
 * the phases. The library's own phase is made of the angle between the two, which does not reach 0 or pi while the moon
 * is off the ecliptic, and its `waxing` turns at the conjunction in right ascension, up to 3 hours from the new moon.
 */
function elongation(at: number): number {
  const date = new Date(at)
  const moon = eclipticLongitude(at, (lat, lon) => getMoonPosition(date, lat, lon).azimuth)
  const sun = eclipticLongitude(at, (lat, lon) => getPosition(date, lat, lon).azimuth)
  return round(moon - sun)
}

/**
 * The ecliptic longitude of a body in radians, out of its azimuths in degrees, which parallax and refraction leave alone:
 * seen from the pole they are its hour angle, and seen from the equator six hours past the meridian its declination.
 * Source: Meeus (1998) Astronomical Algorithms 12.4 (sidereal time), 13.1 and 22.2, main terms (from memory).
 */
function eclipticLongitude(at: number, azimuth: (lat: number, lon: number) => number): number {
  const days = (at - Date.UTC(2000, 0, 1, 12)) / dayMs
  const hourAngle = azimuth(90, 0) - 180
  const declination = (azimuth(0, 90 - hourAngle) - 270) * degrees
  const rightAscension = (280.46061837 + 360.98564736629 * days - hourAngle) * degrees
  const obliquity = (23.439291 - 3.56e-7 * days) * degrees
  return Math.atan2(
    Math.sin(rightAscension) * Math.cos(obliquity) + Math.tan(declination) * Math.sin(obliquity),
    Math.cos(rightAscension),
  )
}
