import { useEffect, useState } from "react"

/** How long the page must have stood still, and how long after one drawing the next may start, in ms. */
const restMs = 80
const frameMs = 16

const waiting = new Set<() => void>()
let running = false
let scrolledAt = -Infinity
const scrolled = () => void (scrolledAt = performance.now())

function next(): void {
  running = waiting.size > 0
  if (running) requestIdleCallback(take)
}

function take(): void {
  if (performance.now() - scrolledAt < restMs) {
    setTimeout(next, restMs)
    return
  }
  const [first] = waiting
  if (first !== undefined && waiting.delete(first)) first()
  setTimeout(next, frameMs)
}

/** Whether the caller may draw: one after another, while the window has nothing better to do and nobody scrolls. */
export function useTurn(): boolean {
  const [mine, setMine] = useState(false)
  useEffect(() => {
    const turn = () => setMine(true)
    window.addEventListener("scroll", scrolled, { passive: true })
    waiting.add(turn)
    if (!running) next()
    return () => void waiting.delete(turn)
  }, [])
  return mine
}
