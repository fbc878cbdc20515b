import { useState } from "react"
import {
  Autocomplete,
  Dialog,
  Input,
  Label,
  Menu,
  MenuItem,
  Modal,
  ModalOverlay,
  SearchField,
  useFilter,
} from "react-aria-components"
import { commands } from "../../shared/commands.ts"
import { keyName, useActions, useCommand } from "./actions.tsx"

/** Everything that can be done just now, found by typing. */
export function CommandList() {
  const [open, setOpen] = useState(false)
  const { can, run } = useActions()
  const { contains } = useFilter({ sensitivity: "base" })
  useCommand("list.open", () => setOpen(true))
  const able = open ? commands.filter(({ id }) => id !== "list.open" && can(id)) : []
  return (
    <ModalOverlay className="veil" isOpen={open} onOpenChange={setOpen} isDismissable>
      <Modal className="sheet">
        <Dialog aria-label="All commands">
          <Autocomplete filter={contains}>
            <SearchField autoFocus>
              <Label className="hidden">Find a command</Label>
              <Input className="find" placeholder="Find a command" />
            </SearchField>
            <Menu
              className="list"
              aria-label="Commands"
              items={able}
              onAction={(id) => {
                setOpen(false)
                const command = able.find((one) => one.id === id)
                if (command !== undefined) queueMicrotask(() => run(command.id))
              }}
            >
              {(command) => (
                <MenuItem id={command.id} textValue={command.label}>
                  <span>{command.label}</span>
                  <kbd>{keyName(command)}</kbd>
                </MenuItem>
              )}
            </Menu>
          </Autocomplete>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
