import { stationsWith, type Stations } from "../conditions/stations/stations.ts"
import { StationLine } from "../conditions/stations/stationFile.ts"
import type { Logbook } from "../store/logbook.ts"
import { ownStations } from "../store/read/ownStations.ts"

/** All stations that a logbook's predictions may use: those that come with the product, and its own. */
export const stationsOf = (book: Logbook): Stations =>
  stationsWith(
    book
      .read(ownStations)
      .map(({ definition, ...station }) => StationLine.parse({ ...JSON.parse(definition), ...station })),
  )
