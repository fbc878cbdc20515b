import { useEffect, useState } from "react"

const everyMs = 60_000

/** The present instant to the minute, UTC ms. */
export function useNow(): number {
  const [now, setNow] = useState(() => Date.now())
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), everyMs)
    return () => clearInterval(timer)
  }, [])
  return now
}

/** The instant where it falls within a stretch, else null: what lies in the past need not be drawn anew each minute. */
export const within = (
  now: number,
  { from, to }: { readonly from: number; readonly to: number },
): number | null => (now >= from && now <= to ? now : null)
