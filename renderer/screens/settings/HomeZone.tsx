import { useState } from "react"
import { Button, ComboBox, Input, Label, ListBox, ListBoxItem, Popover } from "react-aria-components"

const zones = Intl.supportedValuesOf("timeZone").map((id) => ({ id, name: id.replaceAll("_", " ") }))

/** The zone in which rows without one are read: found by typing, kept when chosen. */
export function HomeZone({
  zone,
  onSave,
}: {
  readonly zone: string | null
  readonly onSave: (zone: string | null) => void
}) {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone
  const named = (id: string | null): string => id?.replaceAll("_", " ") ?? ""
  const [typed, setTyped] = useState(named(zone))
  return (
    <>
      <ComboBox
        className="setting"
        items={zones.filter(({ name }) => name.toLowerCase().includes(typed.toLowerCase())).slice(0, 200)}
        inputValue={typed}
        onInputChange={setTyped}
        value={zone}
        onChange={(key) => onSave(typeof key === "string" ? key : null)}
        menuTrigger="input"
      >
        <Label>Home zone</Label>
        <div className="row">
          <Input placeholder="none: clocks in UTC" />
          <Button className="quiet" aria-label="Show zones">
            <span aria-hidden="true">▾</span>
          </Button>
          <span className="soft small">the clock of trips and table rows that name no zone</span>
        </div>
        <Popover className="sheet">
          <ListBox className="list">
            {({ id, name }: (typeof zones)[number]) => (
              <ListBoxItem id={id} textValue={name}>
                {name}
              </ListBoxItem>
            )}
          </ListBox>
        </Popover>
      </ComboBox>
      {zone !== null ? null : (
        <p>
          <Button onPress={() => onSave(here)}>Take this computer&apos;s: {named(here)}</Button>
        </p>
      )}
    </>
  )
}
