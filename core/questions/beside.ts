import { clusterRate, designEffect } from "../stats/clusterRate.ts"
import { figure, rangeText } from "../../shared/figures.ts"
import type { Compared } from "./compared.ts"
import { gather } from "./gather.ts"
import { measure } from "./outcomes.ts"

/**
 * What must be read beside a share: hook-ups (of hooked fish: fish) per rod-hour of the two levels that the answer leads with,
 * since a lure that draws timid strikes lowers its share and may still hook more. Null for other outcomes.
 */
export function beside({ prepared, headline, nameOf }: Compared): string | null {
  const { facts, ask, species } = prepared
  if (headline === null || (ask.outcome !== "hook_up_share" && ask.outcome !== "landing_share")) return null
  const hooks = ask.outcome === "hook_up_share"
  const counts = hooks ? facts.hook_ups : measure(facts, "landed_rate", species).events
  const known = (stint: number) =>
    facts.complete[stint] === 1 &&
    (facts.rod_hours[stint] ?? 0) > 0 &&
    !Number.isNaN(counts[stint] ?? Number.NaN)
  const levels = [headline.pair.a, headline.pair.b].map(({ label, rows }) => ({
    label,
    rows: rows.filter(known),
  }))
  const none = new Float64Array(facts.stints)
  const gathered = gather(
    facts,
    {
      events: counts,
      exposure: facts.rod_hours,
      speciesUnknown: new Uint8Array(facts.stints),
      failures: none,
      failuresUnnamed: none,
      unnamed: none,
    },
    levels,
  )
  const pooled = designEffect(gathered.all.events, gathered.all.exposure)
  const clauses = gathered.levels.flatMap(({ label, events, exposure }) => {
    const found = clusterRate(events, exposure, pooled)
    if (found === null) return []
    return `${nameOf(label)} ${figure(found.estimate)} (${rangeText(found.low, found.high, figure)})`
  })
  if (clauses.length < 2) return null
  return `Beside the share, ${hooks ? "hook-ups" : "fish"} per rod-hour: ${clauses.join("; ")}. A lure that draws timid strikes lowers its share and may still ${hooks ? "hook" : "land"} more.`
}
