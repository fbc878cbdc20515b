// Makes a fresh clone runnable: installs the locked packages when they changed, and finds a modern Node to run them.
// Plain JavaScript without dependencies: this file and those that import it are all that an old Node ever runs.
import { spawn, spawnSync } from "node:child_process"
import { createHash } from "node:crypto"
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs"
import { dirname, join } from "node:path"
import { fileURLToPath } from "node:url"

export const root = dirname(dirname(fileURLToPath(import.meta.url)))
const cache = join(root, "node_modules", ".cache")
const installedMark = join(cache, "installed")

// What Node has once stripped of types and compiled is kept for every program started from here: half of a start is that.
process.env["NODE_COMPILE_CACHE"] ??= join(cache, "compiled")

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

/** Arguments of the modern Node that build the window's page; more may follow. */
export const pageBuilder = [
  join(root, "node_modules", "vite", "bin", "vite.js"),
  "build",
  "--config=renderer/vite.config.ts",
]

/** Builds the window's page unless the one in dist/ was made from the same files. */
export function buildPage() {
  buildOnce("page", ["renderer", "shared"], [...pageBuilder, "--logLevel=warn"])
}

/** Bundles the Electron window's programs likewise. */
export function buildHosts() {
  buildOnce(
    "hosts",
    ["electron", "core", "shared"],
    [join(root, "node_modules", "rolldown", "bin", "cli.mjs"), "-c", "rolldown.config.ts"],
  )
}

/**
 * Runs a build where what it is made from differs from the last time, by content: a checkout changes every file's time.
 * @param {string} name
 * @param {readonly string[]} folders
 * @param {readonly string[]} builder
 */
function buildOnce(name, folders, builder) {
  const hash = createHash("sha256")
  const files = folders.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name)),
  )
  const settings = ["package-lock.json", "rolldown.config.ts"].map((file) => join(root, file))
  for (const file of [...files.toSorted(), ...settings])
    hash.update(`${file.slice(root.length)}\0`).update(readFileSync(file))
  const wanted = hash.digest("hex")
  const mark = join(cache, `built-${name}`)
  const built = join(root, "dist", name === "page" ? "renderer" : "electron")
  if (existsSync(built) && existsSync(mark) && readFileSync(mark, "utf8") === wanted) return
  const done = spawnSync(modernNode(), builder, {
    cwd: root,
    stdio: ["ignore", 2, 2],
    // Whoever builds, what is built is what ships.
    env: { ...process.env, NODE_ENV: "production" },
  })
  if (done.status !== 0) {
    console.error(`The ${name} could not be built; what went wrong stands above.`)
    process.exit(1)
  }
  mkdirSync(cache, { recursive: true })
  writeFileSync(mark, wanted)
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
