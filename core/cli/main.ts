// The command line: npm run -s stintbook -- COMMAND ... It calls the same service as every window, in this process.
import { runCommand } from "./command.ts"
import { processTerminal } from "./terminal.ts"

process.exitCode = await runCommand(process.argv.slice(2), processTerminal())
