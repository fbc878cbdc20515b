import type { Handlers } from "../../shared/api.ts"
import { conditionsMethod } from "../conditions/compute.ts"
import { tellSky } from "../conditions/skyTold.ts"
import { countStale } from "../store/computed.ts"
import type { Logbook } from "../store/logbook.ts"
import type { ConditionsKeeper } from "./conditions.ts"
import type { Queue } from "./queue.ts"
import { stationsOf } from "./stationsOf.ts"

type Area = Pick<Handlers, "conditions.at" | "conditions.settled">

/** What water and sky do at a place and time; and whether the stints' own conditions are all worked out. */
export const skyHandlers = (book: Logbook, queue: Queue, keeper: ConditionsKeeper): Area => ({
  "conditions.at": (ask) => queue(async () => tellSky(ask, stationsOf(book), Date.now())),
  "conditions.settled": async (_, watch) => {
    await keeper.settled(watch)
    return { conditions_behind: await queue(async () => book.read((db) => countStale(db, conditionsMethod))) }
  },
})
