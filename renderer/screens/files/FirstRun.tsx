import { useState } from "react"
import { Button } from "react-aria-components"
import type { DeskState } from "../../../shared/desk.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { Progress } from "../../parts/Progress.tsx"
import { go } from "../../app/route.ts"
import { NewLogbook } from "./NewLogbook.tsx"
import { useDesk } from "./useDesk.ts"

/** What a newcomer meets: the sample first, then a logbook of one's own, then those already there. */
export function FirstRun({ desk }: { readonly desk: DeskState }) {
  const { sample, open } = useDesk()
  const [naming, setNaming] = useState(false)
  const others = desk.files.filter((file) => !file.sample)
  return (
    <article className="text">
      {desk.problem === null ? null : (
        <p className="problem" role="alert">
          {desk.problem}
        </p>
      )}
      <h1>Keep the blank hours too</h1>
      <p className="after">
        Memory keeps the good days. Stintbook keeps every stretch of fishing, with what was tied on and what
        came of it, and tells from it what really produces, and how sure one can be.
      </p>
      <p>
        <Button
          className="main"
          autoFocus
          onPress={() => void sample.run({}).then((done) => done && go({ at: "produces" }))}
        >
          Open the sample logbook
        </Button>
      </p>
      <p className="soft">
        Three seasons of an invented guide on the coast of Georgia, around real tide stations. It is a file of
        its own and never mixes with yours.
      </p>
      <Progress act={sample} what="Making the sample" />
      <h2>Or begin your own</h2>
      {naming ? (
        <NewLogbook onDone={() => go({ at: "files" })} />
      ) : (
        <p>
          <Button onPress={() => setNaming(true)}>New logbook</Button>
          <span className="soft">, and bring a table in on the page Files.</span>
        </p>
      )}
      {others.length === 0 ? null : (
        <>
          <h2>In your folder</h2>
          <ul className="plainlist">
            {others.map(({ name }) => (
              <li key={name}>
                <Button onPress={() => void open.run({ name }).then((done) => done && go({ at: "logbook" }))}>
                  {name}
                </Button>
              </li>
            ))}
          </ul>
        </>
      )}
      {[sample.problem, open.problem].map((problem, i) =>
        problem === null ? null : <ProblemText key={i} problem={problem} />,
      )}
    </article>
  )
}
