import { runCommand } from "../../../core/cli/command.ts"

type Printed = { status: number; out: string; err: string }

/** Runs a command line as a shell would, 80 columns wide, and gathers what it printed. */
export const run = (...argv: string[]): Promise<Printed> => runWith("", ...argv)

/** The same with a text on standard input. */
export async function runWith(input: string, ...argv: string[]): Promise<Printed> {
  const printed = { out: "", err: "" }
  const status = await runCommand(argv, {
    out: (text) => void (printed.out += `${text}\n`),
    err: (text) => void (printed.err += `${text}\n`),
    input: () => input,
    progress: () => undefined,
    width: 80,
  })
  return { status, ...printed }
}
