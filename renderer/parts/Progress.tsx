import { Button, Label, ProgressBar } from "react-aria-components"
import type { MethodName } from "../../shared/api.ts"
import type { Act } from "../client/useAct.ts"

/** How far a long act is, with a way to end it; nothing while it does not run. */
export function Progress<M extends MethodName>({
  act,
  what,
}: {
  readonly act: Act<M>
  readonly what: string
}) {
  if (!act.running) return null
  const { progress } = act
  const part = progress === null || progress.of === 0 ? null : (100 * progress.done) / progress.of
  return (
    <div className="row">
      <ProgressBar {...(part === null ? { isIndeterminate: true } : { value: part })} className="progress">
        <Label>{what}</Label>
        <div className="bar" aria-hidden="true">
          <div className="done" style={{ width: `${part ?? 15}%` }} />
        </div>
      </ProgressBar>
      <Button onPress={act.cancel}>Cancel</Button>
    </div>
  )
}
