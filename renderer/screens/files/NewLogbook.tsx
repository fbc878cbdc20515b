import { useState } from "react"
import { Button, Form, Input, Label, TextField } from "react-aria-components"
import { regionUnits } from "../../app/regionUnits.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { useDesk } from "./useDesk.ts"

/** Names a new logbook and makes it. */
export function NewLogbook({ onDone }: { readonly onDone: () => void }) {
  const [name, setName] = useState("my logbook")
  const { make } = useDesk()
  return (
    <Form
      className="row"
      onSubmit={(event) => {
        event.preventDefault()
        void make.run({ name: withEnding(name), units: regionUnits }).then((done) => done && onDone())
      }}
    >
      <TextField value={name} onChange={setName} autoFocus isRequired>
        <Label>Name</Label> <Input onFocus={(event) => event.currentTarget.select()} />
      </TextField>
      <Button type="submit" className="main">
        Make it
      </Button>
      {make.problem === null ? null : <ProblemText problem={make.problem} />}
    </Form>
  )
}

/** A name with a logbook's ending. */
export const withEnding = (name: string): string =>
  name.trim().endsWith(".stintbook") ? name.trim() : `${name.trim()}.stintbook`
