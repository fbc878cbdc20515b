// npm start: sets up what is missing, then opens the product.
import { join } from "node:path"
import { install, root, run } from "./setup.mjs"

install()
process.exitCode = await run([join(root, "electron", "tour.ts"), ...process.argv.slice(2)])
