// node electron/run.mjs PROGRAM.ts ARGUMENTS: sets up what is missing, then runs one of the repository's programs.
import { join } from "node:path"
import { install, root, run } from "./setup.mjs"

const [program, ...args] = process.argv.slice(2)
if (program === undefined) throw new Error("name the program to run")
install()
process.exitCode = await run([join(root, program), ...args])
