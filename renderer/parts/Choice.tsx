import { useMemo } from "react"
import {
  Button,
  Collection,
  Header,
  ListBox,
  ListBoxItem,
  ListBoxSection,
  Popover,
  Select,
  SelectValue,
} from "react-aria-components"

export type Option = { readonly id: string; readonly label: string }
export type Section = { readonly title: string; readonly options: readonly Option[] }

/** A word of a sentence that can be chosen: underlined, opened by a click or the keyboard, found by its first letters. */
export function Choice({
  label,
  sections,
  value,
  onChange,
}: {
  readonly label: string
  readonly sections: readonly Section[]
  readonly value: string
  readonly onChange: (id: string) => void
}) {
  // The same items again spare the control from making its options anew.
  const items = useMemo(() => sections.map((section, i) => ({ ...section, id: `section ${i}` })), [sections])
  return (
    <Select
      aria-label={label}
      value={value}
      onChange={(key) => {
        if (typeof key === "string") onChange(key)
      }}
      className="choice"
    >
      <Button className="word">
        <SelectValue />
      </Button>
      <Popover className="sheet">
        <ListBox className="list" items={items}>
          {({ id, title, options }) => (
            <ListBoxSection id={id} aria-label={title === "" ? label : title}>
              {title === "" ? null : <Header>{title}</Header>}
              <Collection items={options}>
                {(option) => (
                  <ListBoxItem id={option.id} textValue={option.label}>
                    {option.label}
                  </ListBoxItem>
                )}
              </Collection>
            </ListBoxSection>
          )}
        </ListBox>
      </Popover>
    </Select>
  )
}
