// Makes a fresh clone runnable: installs the locked packages when they changed, and finds a modern Node to run them.
// Plain JavaScript without dependencies: this file and those that import it are all that an old Node ever runs.
import { spawn, spawnSync } from "node:child_process"
import { createHash } from "node:crypto"
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { dirname, join } from "node:path"
import { fileURLToPath } from "node:url"

export const root = dirname(dirname(fileURLToPath(import.meta.url)))
const installedMark = join(root, "node_modules", ".cache", "installed")

/** Installs the packages of the lock file unless those already there came from the same one. */
export function install() {
  const hash = createHash("sha256")
  for (const name of ["package.json", "package-lock.json"]) hash.update(readFileSync(join(root, name)))
  const wanted = hash.update(`${process.platform} ${process.arch}`).digest("hex")
  if (existsSync(installedMark) && readFileSync(installedMark, "utf8") === wanted) return
  console.error("Setting up: installing the packages Stintbook is made of (once, about a minute).")
  const [command, first] = npm()
  const done = spawnSync(command, [...first, "ci", "--no-audit", "--no-fund", "--loglevel=error"], {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: process.platform === "win32" && first.length === 0,
  })
  if (done.status !== 0) {
    console.error(
      "The packages could not be installed. Is the network reachable? Then run the command again.",
    )
    process.exit(1)
  }
  mkdirSync(dirname(installedMark), { recursive: true })
  writeFileSync(installedMark, wanted)
}

/** How to call npm: the npm that started us, by this Node, or the one on the path. */
function npm() {
  const script = process.env["npm_execpath"]
  /** @type {[string, string[]]} */
  const call = script?.endsWith(".js") ? [process.execPath, [script]] : ["npm", []]
  return call
}

/** Path of a Node that runs TypeScript as it is: the one installed with the packages, else this one. */
export function modernNode() {
  const os = process.platform === "win32" ? "win" : process.platform
  const file = process.platform === "win32" ? "node.exe" : "node"
  const bundled = join(root, "node_modules", `node-${os}-${process.arch}`, "bin", file)
  if (existsSync(bundled)) return bundled
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number)
  if (major > 22 || (major === 22 && minor >= 18)) return process.execPath
  console.error(
    `Node ${process.versions.node} is too old here and no newer one comes with the packages for ` +
      `${process.platform}/${process.arch}. Install Node 24 or newer, then run the command again.`,
  )
  process.exit(1)
}

/**
 * Runs a program of the repository with the modern Node, passing the terminal and stop signals on.
 * @param {readonly string[]} args
 * @returns {Promise<number>} its exit status
 */
export function run(args) {
  const child = spawn(modernNode(), args, { stdio: "inherit" })
  for (const signal of /** @type {const} */ (["SIGINT", "SIGTERM"]))
    process.on(signal, () => child.kill(signal))
  return new Promise((resolve, reject) => {
    child.on("error", reject)
    child.on("exit", (code, signal) => resolve(code ?? (signal === null ? 1 : 130)))
  })
}
