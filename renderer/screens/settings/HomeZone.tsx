import { useState } from "react"
import { Button, FieldError, Form, Input, Label, TextField } from "react-aria-components"

/** The zone in which rows without one are read, by its IANA name. */
export function HomeZone({
  zone,
  onSave,
}: {
  readonly zone: string | null
  readonly onSave: (zone: string | null) => void
}) {
  const [typed, setTyped] = useState(zone ?? "")
  return (
    <Form
      className="row"
      onSubmit={(event) => {
        event.preventDefault()
        onSave(typed.trim() === "" ? null : typed.trim())
      }}
    >
      <TextField value={typed} onChange={setTyped}>
        <Label>Home zone</Label> <Input placeholder="America/New_York" />
        <FieldError />
      </TextField>
      <Button type="submit">Save</Button>
    </Form>
  )
}
