import type { Handlers } from "../../shared/api.ts"
import type { OwnPrediction } from "../../shared/places.ts"
import { ProblemError } from "../../shared/problems.ts"
import { stationsNear } from "../conditions/stations/fit.ts"
import { missingMain, readConstants, type ReadConstants } from "../conditions/stations/readConstants.ts"
import { stationFile, type ListedStation } from "../conditions/stations/stationFile.ts"
import type { Stations } from "../conditions/stations/stations.ts"
import type { Logbook } from "../store/logbook.ts"
import { add } from "../store/put.ts"
import type { Queue } from "./queue.ts"
import { stationsOf } from "./stationsOf.ts"

type Area = Pick<Handlers, "stations.near" | "stations.save" | "stations.source">

/** Tide and current stations: those that come with the product, searched by distance, and the user's own. */
export const stationHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "stations.near": ({ lat, lon, count }) =>
    queue(async () => stationsNear({ lat, lon }, count, stationsOf(book))),
  "stations.save": ({ name, lat, lon, source, prediction }) =>
    change(async () =>
      book.change((open) => {
        const definition = definitionOf(prediction, stationsOf(book))
        const { kind, ...rest } = definition
        const id = add(open, "own_station", {
          name,
          lat,
          lon,
          source,
          kind,
          definition: JSON.stringify(rest),
        })
        return { id, act: open.batch, cautions: cautionsOf(definition) }
      }),
    ),
  "stations.source": async () => stationFile().header,
})

type Definition = {
  readonly kind: ListedStation["kind"]
  readonly constants?: ReadConstants
  readonly [field: string]: unknown
}

function cautionsOf({ constants }: Definition): { code: string; text: string }[] {
  const missing = constants === undefined ? [] : missingMain(constants)
  return missing.length === 0
    ? []
    : [
        {
          code: "rough_station",
          text: `The constants lack ${missing.join(", ")}: predictions from them are rough. Compare some days with what you see.`,
        },
      ]
}

/** What the store keeps of an own station besides its place. Throws a ProblemError where it could not be predicted. */
function definitionOf(prediction: OwnPrediction, stations: Stations): Definition {
  switch (prediction.how) {
    case "tide constants": {
      const { file, datum, mean_m, great_diurnal_range_m } = prediction
      return { kind: "tide", datum, mean_m, great_diurnal_range_m, constants: readConstants(file, "tide") }
    }
    case "current constants": {
      const { file, mean_flow_kn, flood_direction_deg, ebb_direction_deg } = prediction
      const constants = readConstants(file, "current")
      return { kind: "current", mean_flow_kn, flood_direction_deg, ebb_direction_deg, constants }
    }
    case "tide offsets": {
      const { reference, high, low } = prediction
      if (stations.find(reference)?.kind !== "tide" || !stationFile().has(reference))
        throw new ProblemError(
          "unknown_station",
          `"${reference}" is no tide station that offsets can be counted from. Give the id of one that comes with Stintbook.`,
          { station: reference },
        )
      return { kind: "tide", reference, offsets: { high, low } }
    }
  }
}
