import { useState } from "react"
import { Button } from "react-aria-components"
import type { Problem } from "../../shared/problems.ts"
import { useClient } from "../client/useClient.ts"
import { withoutFlags } from "./withoutFlags.ts"

/** A failure as a sentence, with a way to copy the local log. */
export function ProblemText({ problem }: { readonly problem: Problem }) {
  const client = useClient()
  const [copied, setCopied] = useState(false)
  const copy = async () => {
    const { text } = await client.call("desk.log", {})
    await navigator.clipboard.writeText(`${problem.code}: ${problem.message}\n\n${text}`)
    setCopied(true)
  }
  return (
    <div className="problem" role="alert">
      <p>{withoutFlags(problem.message)}</p>
      <Button onPress={() => void copy()}>{copied ? "Copied" : "Copy the local log"}</Button>
    </div>
  )
}

/** Several that may have come of one thing: each sentence once. */
export const Problems = ({ of }: { readonly of: readonly (Problem | null)[] }) =>
  of
    .filter((problem) => problem !== null)
    .filter(({ message }, i, all) => all.findIndex((other) => other.message === message) === i)
    .map((problem) => <ProblemText key={problem.message} problem={problem} />)
