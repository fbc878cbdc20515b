import { useCallback, useRef } from "react"
import type { Output } from "../../../shared/api.ts"
import type { Problem } from "../../../shared/problems.ts"
import { useCall, useCallOf } from "../../client/useCall.ts"
import { useEarly } from "../../client/useEarly.ts"
import type { askOf } from "./question.ts"

type Ask = ReturnType<typeof askOf>
type Told = { readonly value: Output<"questions.ask"> | null; readonly problem: Problem | null }

/** How a question stands. `told`: the best there is to show; `late` where that is still the answer to the question before. */
type Standing = {
  readonly told: Told
  readonly late: boolean
  /** Whether the answer as fished comes first. */
  readonly staged: boolean
  readonly working: boolean
  readonly progress: { readonly done: number; readonly of: number } | null
  /** Begins to ask what will be asked in a moment. */
  readonly begin: (ask: Ask) => void
}

/** The question as it is asked first; null where there is but one step. */
const asFished = (ask: Ask): Ask | null =>
  ask.question === "compare" && ask.by !== "all" && ask.basis === null
    ? { ...ask, basis: "raw", depends_on: null }
    : null

const nothingTold: Told = { value: null, problem: null }

/**
 * Asks a question in two steps: as fished, which takes a moment, then as fairly as can be, which is asked once the first is
 * here, so that it never holds it up. With `cancelled` only the first. What was told before stays in sight until then, and
 * never comes back.
 */
export function useAnswer(ask: Ask, cancelled: boolean): Standing {
  const first = asFished(ask)
  const staged = first !== null
  const { begin, call } = useEarly("questions.ask")
  const raw = useCallOf(call, first)
  const fair = useCall("questions.ask", cancelled || raw.asking ? null : ask)
  const latest = useRef(nothingTold)
  const working = !cancelled && (raw.asking || fair.asking)
  const fresh = !cancelled && !working ? fair : staged && !raw.asking ? raw : null
  if (fresh !== null) latest.current = { value: fresh.value, problem: fresh.problem }
  const soon = useCallback(
    (next: Ask) => {
      const early = asFished(next)
      if (early !== null) begin(early)
    },
    [begin],
  )
  return {
    told: latest.current,
    late: fresh === null,
    staged,
    working,
    progress: fair.progress,
    begin: soon,
  }
}
