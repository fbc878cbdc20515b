/** Long work that can be left between its steps; its value comes with the last one. */
export type Steps<T> = Generator<undefined, T>

/** Takes all steps at once. */
export function atOnce<T>(steps: Steps<T>): T {
  for (;;) {
    const step = steps.next()
    if (step.done === true) return step.value
  }
}

/** How long steps are taken without a pause, ms. */
const stretchMs = 8

/** Takes steps and pauses every few milliseconds, so that whatever else waits gets its turn. An error of `pause` ends the work. */
export async function givingWay<T>(steps: Steps<T>, pause: () => Promise<void>): Promise<T> {
  let since = performance.now()
  for (;;) {
    const step = steps.next()
    if (step.done === true) return step.value
    if (performance.now() - since < stretchMs) continue
    await pause()
    since = performance.now()
  }
}
