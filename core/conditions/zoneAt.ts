import lookup from "@photostructure/tz-lookup"
import type { Place } from "./place.ts"

/**
 * The IANA time zone in force at a place, offline; at sea the nautical zone in whole hours, such as Etc/GMT+2 (two hours
 * behind UTC). Borders are those of the library's release and coarse to some kilometres: near one, let the user choose.
 * Throws RangeError for coordinates out of range. Source: @photostructure/tz-lookup, from the Timezone Boundary Builder.
 */
export const zoneAt = ({ lat, lon }: Place): string => lookup(lat, lon)
