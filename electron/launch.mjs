// npm start: sets up what is missing, then opens the product.
import { join } from "node:path"
import { buildPage, install, root, run } from "./setup.mjs"

const args = process.argv.slice(2)
const program = (/** @type {string} */ name) => join(root, "electron", name)

install()
if (args[0] === "--tour") {
  process.exitCode = await run([program("tour.ts"), ...args.slice(1)])
} else {
  buildPage()
  process.exitCode = await run([program("start.ts"), ...args])
}
