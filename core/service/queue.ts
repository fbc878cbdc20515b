/** Runs one asynchronous act after another. */
export type Queue = <T>(act: () => Promise<T>) => Promise<T>

/** A queue of its own; an act that fails does not stop those behind it. */
export function oneAtATime(): Queue {
  let last: Promise<unknown> = Promise.resolve()
  return (act) => {
    const run = last.then(act, act)
    last = run.catch(() => undefined)
    return run
  }
}
