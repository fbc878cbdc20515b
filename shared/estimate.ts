import { z } from "zod"

const number = z.number().nullable()

/** An estimate with its 95% interval; null at an end means unbounded, or undefined for a single trip. */
export const estimate = z.object({ estimate: number, low: number, high: number })
