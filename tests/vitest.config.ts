import { join } from "node:path"
import { defineConfig } from "vitest/config"

const kinds = ["unit", "reference", "simulation", "faults"]

export default defineConfig({
  test: {
    projects: kinds.map((name) => ({
      root: join(import.meta.dirname, ".."),
      test: { name, include: [`tests/${name}/**/*.test.ts`], testTimeout: 120_000, pool: "forks" as const },
    })),
  },
})
