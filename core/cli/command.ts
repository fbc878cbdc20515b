import type { CallContext } from "../../shared/api.ts"
import { problemOf } from "../../shared/rpc.ts"
import { commands } from "./commands.ts"
import type { Terminal } from "./terminal.ts"
import { usage, UsageError } from "./usage.ts"

/** One command: its arguments in, its result out. Throws a UsageError or a ProblemError. */
export type Command = (args: readonly string[], context: CommandContext) => Promise<Result>

/** What a command may do besides; `input` is all of standard input as text. */
export type CommandContext = CallContext & { input(): string }

/** A command's result: for programs as JSON, for people as text made to a width. */
export type Result = { readonly json: unknown; text(width: number): string }

/**
 * Runs one command line. Returns the exit status: 0 done (a refusal to answer is an answer), 1 cannot, 2 wrong usage.
 */
export async function runCommand(argv: readonly string[], terminal: Terminal): Promise<number> {
  const [name = "", ...args] = argv
  const json = args.includes("--json")
  try {
    if (name === "help" || name === "" || argv.includes("--help")) {
      terminal.out(usage)
      return name === "" ? 2 : 0
    }
    const command = commands[name]
    if (command === undefined) throw new UsageError(`There is no command "${name}". "help" lists them.`)
    const result = await command(args, {
      signal: new AbortController().signal,
      progress: terminal.progress,
      input: terminal.input,
    })
    terminal.out(json ? JSON.stringify(result.json, null, 1) : result.text(terminal.width))
    return 0
  } catch (error) {
    const wrongUse = error instanceof UsageError
    const problem = wrongUse ? { code: "usage", message: error.message, details: {} } : problemOf(error)
    if (json) terminal.out(JSON.stringify({ error: problem }))
    terminal.err(problem.message)
    return wrongUse ? 2 : 1
  }
}
