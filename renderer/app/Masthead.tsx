import { commands } from "../../shared/commands.ts"
import type { DeskState } from "../../shared/desk.ts"
import { Button } from "react-aria-components"
import { keyName, useActions } from "./actions.tsx"
import { addressOf, type Route } from "./route.ts"

const screens = [
  { at: "logbook", label: "Logbook" },
  { at: "tackle", label: "Tackle" },
  { at: "spots", label: "Spots" },
  { at: "produces", label: "What produces" },
  { at: "files", label: "Files" },
] as const

/** Name, screens, and which logbook is open. */
export function Masthead({ desk, route }: { readonly desk: DeskState; readonly route: Route }) {
  const { run } = useActions()
  const here = route.at === "trip" ? "logbook" : route.at
  const list = commands.find(({ id }) => id === "list.open")
  return (
    <header className="masthead">
      <a className="skip" href="#screen">
        To the page
      </a>
      <span className="name">Stintbook</span>
      <nav aria-label="Screens">
        {screens
          .filter(({ at }) => desk.open !== null || at === "files")
          .map(({ at, label }) => (
            <a key={at} href={addressOf({ at })} aria-current={here === at ? "page" : undefined}>
              {label}
            </a>
          ))}
      </nav>
      <span className="state">
        {stateOf(desk)}{" "}
        <Button className="quiet" onPress={() => run("list.open")}>
          All commands <kbd>{list === undefined ? "" : keyName(list)}</kbd>
        </Button>
      </span>
    </header>
  )
}

function stateOf({ open }: DeskState): string {
  if (open === null) return "no logbook open"
  if (open.read_only !== null) return `${open.name}, to read only`
  return open.sample ? `${open.name}, made up` : `${open.name}, saved`
}
