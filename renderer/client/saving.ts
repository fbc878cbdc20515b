/** What is being typed and is not all sent yet: each gives a promise of when it is. */
const unsent = new Set<() => Promise<unknown>>()

/** Has whatever must come after all that was typed wait for it, until the function it gives is called. */
export function waitForMine(settled: () => Promise<unknown>): () => void {
  unsent.add(settled)
  return () => void unsent.delete(settled)
}

/** Resolves when all that was typed so far is kept. */
export const allKept = async (): Promise<void> => {
  await Promise.allSettled([...unsent].map((settled) => settled()))
}
