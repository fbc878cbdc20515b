import type { LureClass } from "./lures.ts"
import { retrieves } from "./rigs.ts"
import type { Keyed } from "./rows.ts"

export type Presentation = Keyed<"presentation"> & {
  readonly className: LureClass
  readonly pause_s: number | null
}

function presentation(
  code: string,
  mark: string,
  name: string,
  className: LureClass,
  parts: { lure: string; rig: string; retrieve: string },
): Presentation {
  const retrieve = retrieves.find(({ key }) => key === `retrieve ${parts.retrieve}`)
  return {
    key: `presentation ${code}`,
    code,
    mark,
    name,
    lure_id: `lure ${parts.lure}`,
    rig_id: `rig ${parts.rig}`,
    retrieve_id: `retrieve ${parts.retrieve}`,
    className,
    pause_s: retrieve?.pause_s ?? null,
  }
}

const jig = (code: string, mark: string, name: string, lure: string, rig: string, retrieve: string) =>
  presentation(code, mark, name, "soft plastic on a jig head", { lure, rig, retrieve })

/** Jigs pair every colour with two head weights and both retrieves, so that colour goes with nothing else. */
export const presentations: readonly Presentation[] = [
  jig("pt", "p", "paddle tail natural, 1/8 oz, hopped", "pn", "h1", "hop"),
  jig("p4", "n", "paddle tail natural, 1/4 oz, bounced", "pn", "h2", "bounce"),
  jig("pk", "k", "paddle tail dark, 1/4 oz, hopped", "pd", "h2", "hop"),
  jig("p3", "d", "paddle tail dark, 3/8 oz, bounced", "pd", "h3", "bounce"),
  jig("pl", "l", "paddle tail light, 1/8 oz, bounced", "pl", "h1", "bounce"),
  jig("pw", "h", "paddle tail light, 3/8 oz, hopped", "pl", "h3", "hop"),
  jig("pb", "b", "paddle tail bright, 1/4 oz, bounced", "pb", "h2", "bounce"),
  jig("pv", "v", "paddle tail bright, 1/8 oz, hopped", "pb", "h1", "hop"),
  presentation("ck", "c", "cork, shrimp natural, short drop", "popping-cork rig", {
    lure: "sn",
    rig: "c1",
    retrieve: "pop",
  }),
  presentation("cd", "e", "cork, shrimp light, long drop", "popping-cork rig", {
    lure: "sl",
    rig: "c2",
    retrieve: "pop",
  }),
  presentation("tw", "t", "suspending minnow natural", "suspending twitch bait", {
    lure: "tn",
    rig: "ps",
    retrieve: "twitch",
  }),
  presentation("tb", "g", "suspending minnow bright", "suspending twitch bait", {
    lure: "tb",
    rig: "ps",
    retrieve: "twitch",
  }),
  presentation("ts", "s", "slow-sinking stick", "slow-sinking twitch bait", {
    lure: "ss",
    rig: "pk",
    retrieve: "twitch",
  }),
  presentation("wk", "w", "walker light", "topwater walker", {
    lure: "wl",
    rig: "pf",
    retrieve: "walk",
  }),
  presentation("wd", "q", "walker dark", "topwater walker", {
    lure: "wd",
    rig: "pf",
    retrieve: "walk",
  }),
  presentation("sp", "o", "gold spoon, steady", "spoon", { lure: "sp", rig: "sp", retrieve: "steady" }),
]
