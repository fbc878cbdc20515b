/** A probability in figures, as small ones are told. */
export const chance = (p: number | null): string =>
  p === null ? "-" : p < 0.001 ? "<0.001" : p.toFixed(p < 0.01 ? 3 : 2)
