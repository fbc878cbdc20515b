import { Temporal } from "temporal-polyfill"
import type { Draft } from "../../shared/entities.ts"
import { lastSeason } from "./calendar.ts"
import type { Keyed } from "./rows.ts"
import { guide, owner, redDrum, seatrout, type Species, zone } from "./scenario.ts"
import { inches } from "./tradeUnits.ts"

/** What lies after the last season: an outing under way and two that are planned. None of it enters a rate. */
export type Ahead = {
  readonly trips: readonly Keyed<"trip">[]
  readonly trip_anglers: readonly Readonly<Draft<"trip_angler">>[]
  readonly stops: readonly Keyed<"stop">[]
  readonly stints: readonly Keyed<"stint">[]
  readonly strikes: readonly Readonly<Draft<"strike">>[]
}

const at = (day: number, clock: string): number =>
  Temporal.PlainDate.from({ year: lastSeason + 1, month: 1, day }).toZonedDateTime({
    timeZone: zone,
    plainTime: clock,
  }).epochMilliseconds

const trip = (
  day: number,
  target: Species,
  more: Pick<Keyed<"trip">, "status" | "notes">,
): Keyed<"trip"> => ({
  key: `trip ahead ${day}`,
  date: `${lastSeason + 1}-01-${String(day).padStart(2, "0")}`,
  zone,
  start_at: at(day, "07:00"),
  target_species_id: target.key,
  purpose: "own",
  completeness: "complete",
  counted_misses: 1,
  counted_losses: 1,
  counted_follows: 0,
  counted_hang_ups: 1,
  counted_landed: 1,
  recorded: "live",
  grouping: "said",
  ...more,
})

export const ahead: Ahead = {
  trips: [
    trip(3, redDrum, { status: "open", notes: null }),
    trip(10, seatrout, {
      status: "planned",
      notes: "Long pauses over the creek mouths, if the water is under 13 degrees.",
    }),
    trip(24, redDrum, { status: "planned", notes: null }),
  ],
  trip_anglers: [3, 10, 24].flatMap((day) =>
    (day === 24 ? [guide, owner] : [owner]).map(({ key }) => ({
      trip_id: `trip ahead ${day}`,
      angler_id: key,
    })),
  ),
  stops: [
    {
      key: "stop ahead",
      trip_id: "trip ahead 3",
      ordinal: 0,
      spot_id: "spot lr",
      start_at: at(3, "07:20"),
      platform: "held",
    },
  ],
  stints: [
    {
      key: "stint ahead 1",
      stop_id: "stop ahead",
      ordinal: 0,
      presentation_id: "presentation p4",
      angler_id: owner.key,
      start_at: at(3, "07:20"),
      end_at: at(3, "07:50"),
      effort_source: "clocked",
      rods: 1,
      hang_ups: 1,
      lures_lost: 0,
      why_changed: "planned",
    },
    {
      key: "stint ahead 2",
      stop_id: "stop ahead",
      ordinal: 1,
      presentation_id: "presentation ck",
      angler_id: owner.key,
      start_at: at(3, "07:50"),
      rods: 1,
    },
  ],
  strikes: [
    {
      stint_id: "stint ahead 1",
      ordinal: 0,
      fate: "landed",
      species_id: redDrum.key,
      at: at(3, "07:41"),
      length_mm: inches(18),
      kept: 0,
    },
  ],
}
