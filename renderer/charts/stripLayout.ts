/** In a list row, at the head of a trip, and as the background of a plan, where nothing is fished yet. */
export type StripSize = "row" | "page" | "plan"

/** Where the parts of a day strip stand, in pixels from its top. */
export type StripLayout = {
  /** Whether anything is written; a list row has no room for it. */
  readonly words: boolean
  readonly light: number
  readonly tideTop: number
  readonly tideBottom: number
  /** The middle of a lane's fish, and its bar. Null where stints are not drawn. */
  readonly lane:
    | ((lane: number) => { readonly fish: number; readonly top: number; readonly bottom: number })
    | null
  readonly names: number
  readonly hours: number
  readonly height: number
  /** Area of a fish's mark, square pixels. */
  readonly fishSize: number
}

/** The layout of a size for so many lanes. `em` is the height of its type in pixels. */
export function stripLayout(size: StripSize, lanes: number, em: number): StripLayout {
  if (size === "row") return rowLayout(Math.max(1, lanes), em)
  const tideBottom = size === "plan" ? 18 * em : 9.6 * em
  const below = tideBottom + (size === "plan" ? 0 : 0.35 * em + Math.max(1, lanes) * laneStep * em)
  return {
    words: true,
    light: 0.9 * em,
    tideTop: 3 * em,
    tideBottom,
    lane:
      size === "plan"
        ? null
        : (lane) => {
            const top = tideBottom + (0.35 + lane * laneStep) * em
            return { fish: top + 0.5 * em, top: top + em, bottom: top + 2.1 * em }
          },
    names: below + 0.7 * em,
    hours: below + (size === "plan" ? 1.2 : 2.2) * em,
    height: below + (size === "plan" ? 2 : 3) * em,
    fishSize: 0.42 * em * em,
  }
}

const laneStep = 2.35

/** A row's lanes share one narrow band, and its fish stand in one line over it. */
function rowLayout(lanes: number, em: number): StripLayout {
  const height = 2.35 * em
  const bars = 0.75 * em
  return {
    words: false,
    light: 0,
    tideTop: 0.15 * em,
    tideBottom: 1.1 * em,
    lane: (lane) => {
      const top = height - bars + (lane * bars) / lanes
      return { fish: 1.35 * em, top, bottom: top + bars / lanes }
    },
    names: 0,
    hours: 0,
    height,
    fishSize: 0.2 * em * em,
  }
}
