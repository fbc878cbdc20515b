// The command line: npm run -s stintbook -- COMMAND ... It calls the same service as every window, in this process.
import { runCommand } from "./command.ts"

process.exitCode = await runCommand(process.argv.slice(2), {
  out: (text) => void process.stdout.write(`${text}\n`),
  err: (text) => void process.stderr.write(`${text}\n`),
  width: process.stdout.columns ?? 100,
})
