/** How long an act takes, seconds. */
export const seconds = async (act: () => unknown): Promise<number> => {
  const start = performance.now()
  await act()
  return (performance.now() - start) / 1000
}
