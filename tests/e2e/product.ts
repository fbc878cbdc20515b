import { spawn, type ChildProcess } from "node:child_process"
import { join } from "node:path"
import { onTestFinished } from "vitest"
import { buildPage } from "../../electron/setup.mjs"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"

const program = join(import.meta.dirname, "../../electron/start.ts")
const link = /http:\/\/127\.0\.0\.1:\d+\/enter\/[\w-]+/

/** A host that runs as its user would start it. */
export type Product = {
  /** An address that lets one window in, once. */
  readonly link: string
  readonly folder: string
  readonly config: string
  readonly host: ChildProcess
  /** All it has printed up to now. */
  readonly said: () => string
  /** Its exit status, or the signal that ended it. */
  readonly ended: Promise<number | string>
}

type Started = {
  readonly args?: readonly string[]
  readonly folder?: string
  readonly config?: string
  /** How it shows itself; by default not at all. */
  readonly show?: "--no-window" | "--browser"
  readonly env?: NodeJS.ProcessEnv
  /** A program that starts it in surroundings of its own, with its arguments; `sh -c` of them gets ours as "$@". */
  readonly through?: readonly string[]
}

/**
 * Starts the product, on folders of the test's own, and waits for its link. It is ended after the test,
 * however that ends.
 */
export async function startProduct({ args = [], ...given }: Started = {}): Promise<Product> {
  buildPage()
  const folder = given.folder ?? join(temporaryFolder(), "books")
  const config = given.config ?? join(temporaryFolder(), "config")
  const [command = "", ...words] = [
    ...(given.through ?? []),
    process.execPath,
    program,
    given.show ?? "--no-window",
    `--folder=${folder}`,
    `--config=${config}`,
    ...args,
  ]
  const host = spawn(command, words, { stdio: ["ignore", "pipe", "pipe"], env: given.env ?? process.env })
  let said = ""
  const ended = new Promise<number | string>((resolve) =>
    host.on("close", (code, signal) => resolve(code ?? signal ?? "")),
  )
  onTestFinished(async () => {
    host.kill("SIGKILL")
    await ended
  })
  const found = new Promise<string>((resolve, reject) => {
    const hear = (text: string): void => {
      said += text
      const [address] = link.exec(said) ?? []
      if (address !== undefined) resolve(address)
    }
    host.stdout.setEncoding("utf8").on("data", hear)
    host.stderr.setEncoding("utf8").on("data", hear)
    void ended.then((status) => reject(new Error(`the product ended with ${status}: ${said}`)))
  })
  return { link: await found, folder, config, host, said: () => said, ended }
}
