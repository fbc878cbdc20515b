import { join } from "node:path"
import { defineConfig } from "vitest/config"

const root = join(import.meta.dirname, "..")
const kinds = ["unit", "reference", "simulation", "faults"]

export default defineConfig({
  test: {
    projects: [
      ...kinds.map((name) => ({
        root,
        test: { name, include: [`tests/${name}/**/*.test.ts`], testTimeout: 120_000, pool: "forks" as const },
      })),
      // A host and a browser each: one file after the other.
      {
        root,
        test: {
          name: "e2e",
          include: ["tests/e2e/**/*.test.ts"],
          testTimeout: 60_000,
          hookTimeout: 60_000,
          pool: "forks" as const,
          fileParallelism: false,
        },
      },
    ],
  },
})
