import { spawnSync } from "node:child_process"

/** Whether R is installed here with these packages. */
export const rHas = (...packages: readonly string[]): boolean =>
  spawnSync("Rscript", ["-e", packages.map((name) => `library(${name})`).join("; ")]).status === 0
