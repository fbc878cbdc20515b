/** An instant (UTC ms) as people read it: `2024-05-11 06:10 UTC`. */
export const utcText = (at: number): string =>
  `${new Date(at).toISOString().slice(0, 16).replace("T", " ")} UTC`
