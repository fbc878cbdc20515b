import { commands, type CommandId } from "../../shared/commands.ts"
import { keyName } from "../app/actions.tsx"

/** The key of a command, as people read it. */
export function CommandKey({ id }: { readonly id: CommandId }) {
  const command = commands.find((one) => one.id === id)
  return command === undefined ? null : <kbd>{keyName(command)}</kbd>
}
