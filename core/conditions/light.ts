import type { lights } from "../../shared/vocabulary.ts"
import type { SunPosition } from "./sun.ts"

export type Light = (typeof lights)[number]

/** Civil twilight ends where the sun's centre is this low, degrees. Source: US Naval Observatory definitions (from memory). */
const civil = -6
/** Sunrise and sunset: the upper limb on the horizon, lifted by 34 minutes of arc. Source: as above. */
const limb = -0.833

/**
 * The light under a sun: night below civil twilight, first light while the sun climbs to its rise, day, last light while
 * it sinks after its set. In a white night last light turns into first light at the sun's lowest point. Words are ours.
 */
export function lightUnder({ altitude_deg, climbing }: SunPosition): Light {
  if (altitude_deg < civil) return "night"
  if (altitude_deg >= limb) return "day"
  return climbing ? "first light" : "last light"
}
