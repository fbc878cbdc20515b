/** Fixed words, in the order in which they are listed, printed and compared. The store's CHECKs repeat them. */
export const colours = ["light", "natural", "dark", "bright", "two-tone", "metallic"] as const
export const yesNo = ["no", "yes"] as const
export const hookShanks = ["short", "long"] as const
export const hookStyles = ["open", "weedless", "treble", "single"] as const
export const baits = ["none", "tipped", "live shrimp", "live fish", "cut"] as const
export const sinks = ["floats", "suspends", "slow", "fast"] as const
export const paces = ["slow", "medium", "fast"] as const
export const rhythms = ["steady", "broken"] as const
export const lines = ["tight", "slight slack", "slack"] as const
export const waterColumns = ["on bottom", "just off bottom", "middle", "upper", "surface"] as const
export const platforms = ["anchored", "held", "drifting", "poled", "kayak", "wading", "bank"] as const
export const sights = ["blind", "sight"] as const
export const visibilities = ["clear", "slightly stained", "stained", "muddy"] as const
export const waterMovements = ["still", "easy", "good", "ripping"] as const
export const tideStages = ["low stand", "rising", "high stand", "falling"] as const
export const tideParts = [
  "low stand",
  "first of the rise",
  "middle of the rise",
  "last of the rise",
  "high stand",
  "first of the fall",
  "middle of the fall",
  "last of the fall",
] as const
export const currentStages = ["slack before flood", "flood", "slack before ebb", "ebb"] as const
export const lights = ["night", "first light", "day", "last light"] as const

export const purposes = ["own", "guided", "scouting", "teaching"] as const
export const completenesses = ["complete", "partial", "catches only"] as const
export const recordings = ["live", "card", "that night", "later"] as const
export const tripStatuses = ["planned", "open", "closed"] as const
/** How the rows of a table were told apart into trips: the record said so, each row was taken as one, or each day. */
export const tripGroupings = ["said", "row", "day"] as const
export const effortSources = ["clocked", "ticked", "shared", "given"] as const
export const changeReasons = ["planned", "slow", "lost or fouled", "moved", "saw something"] as const
/** Fates of a strike. The last three say where less is known: nothing more; hooked; hooked or not, but not landed. */
export const fates = ["missed", "lost", "bitten off", "landed", "struck", "hooked", "not landed"] as const
export const tookOn = ["fall", "pause", "move"] as const
export const lengthTypes = ["total", "fork"] as const
export const stationKinds = ["tide", "current"] as const
export const observationSources = ["seen", "instrument", "imported"] as const

export type LengthType = (typeof lengthTypes)[number]
export type ChangeReason = (typeof changeReasons)[number]
export type Fate = (typeof fates)[number]
export type Completeness = (typeof completenesses)[number]
export type TripGrouping = (typeof tripGroupings)[number]
