import { runCommand } from "../../../core/cli/command.ts"

/** Runs a command line as a shell would, 80 columns wide, and gathers what it printed. */
export async function run(...argv: string[]): Promise<{ status: number; out: string; err: string }> {
  const printed = { out: "", err: "" }
  const status = await runCommand(argv, {
    out: (text) => void (printed.out += `${text}\n`),
    err: (text) => void (printed.err += `${text}\n`),
    progress: () => undefined,
    width: 80,
  })
  return { status, ...printed }
}
