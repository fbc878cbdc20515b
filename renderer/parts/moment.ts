const format = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" })

/** An instant (UTC ms) by this computer's calendar and clock, as its user writes them. */
export const moment = (at: number): string => format.format(at)
