import type { SpotWater } from "../conditions/spotWater.ts"
import type { Draft, Entity } from "../../shared/entities.ts"

/** A row to be made, with a key of its own; columns that point at other rows hold the keys of those. */
export type Keyed<E extends Entity> = Readonly<Draft<E>> & { readonly key: string }

/** A spot whose place is known, so that its sky and tide can be told. */
export type PlacedSpot = Keyed<"spot"> & SpotWater & { readonly lat: number; readonly lon: number }

/**
 * Everything a sample logbook holds, in an order in which every row comes after those it points at. What a row carries
 * beside its columns is the simulator's own and is not stored.
 */
export type SampleRows = {
  readonly anglers: readonly Keyed<"angler">[]
  readonly spots: readonly PlacedSpot[]
  readonly species: readonly Keyed<"species">[]
  readonly lure_classes: readonly Keyed<"lure_class">[]
  readonly lures: readonly Keyed<"lure">[]
  readonly rigs: readonly Keyed<"rig">[]
  readonly retrieves: readonly Keyed<"retrieve">[]
  readonly presentations: readonly Keyed<"presentation">[]
  readonly trips: readonly Keyed<"trip">[]
  readonly trip_anglers: readonly Readonly<Draft<"trip_angler">>[]
  readonly stops: readonly Keyed<"stop">[]
  readonly stints: readonly Keyed<"stint">[]
  readonly strikes: readonly Readonly<Draft<"strike">>[]
  readonly observations: readonly Readonly<Draft<"observation">>[]
  readonly settings: readonly Readonly<Draft<"setting">>[]
}
