import { useEffect, useState } from "react"
import type { DeskState, Preferences } from "../../shared/desk.ts"
import type { Client } from "../../shared/rpc.ts"
import { useAct } from "../client/useAct.ts"
import { useCall } from "../client/useCall.ts"
import { ClientContext } from "../client/useClient.ts"
import { ProblemText } from "../parts/ProblemText.tsx"
import { About } from "../screens/about/About.tsx"
import { Files } from "../screens/files/Files.tsx"
import { FirstRun } from "../screens/files/FirstRun.tsx"
import { Help } from "../screens/help/Help.tsx"
import { Logbook } from "../screens/logbook/Logbook.tsx"
import { Trip } from "../screens/logbook/Trip.tsx"
import { Produces } from "../screens/produces/Produces.tsx"
import { Settings } from "../screens/settings/Settings.tsx"
import { ActionsProvider, useCommand } from "./actions.tsx"
import { CommandList } from "./CommandList.tsx"
import { Masthead } from "./Masthead.tsx"
import { go, useRoute, type Route } from "./route.ts"

/** The window: masthead, the screen of the present address, and the command list. */
export function App({ client, gone }: { readonly client: Client; readonly gone: Promise<void> }) {
  const [lost, setLost] = useState(false)
  useEffect(() => void gone.then(() => setLost(true)), [gone])
  return (
    <ClientContext value={client}>
      <ActionsProvider>{lost ? <Gone /> : <Desk />}</ActionsProvider>
    </ClientContext>
  )
}

const Gone = () => (
  <main className="frame">
    <div className="problem" role="alert">
      <h1>This window has lost its program</h1>
      <p>Everything that was saved is in the logbook's file. Start Stintbook again to go on.</p>
    </div>
  </main>
)

function Desk() {
  const desk = useCall("desk.state", {})
  const preferences = useCall("desk.preferences", {})
  useAppearance(preferences.value)
  if (desk.value === null)
    return (
      <main className="frame">{desk.problem === null ? null : <ProblemText problem={desk.problem} />}</main>
    )
  return (
    <>
      <Screens desk={desk.value} />
      <CommandList />
    </>
  )
}

function Screens({ desk }: { readonly desk: DeskState }) {
  const route = useRoute()
  const open = desk.open !== null
  useCommand("go.logbook", open ? () => go({ at: "logbook" }) : null)
  useCommand("go.produces", open ? () => go({ at: "produces" }) : null)
  useCommand("go.files", () => go({ at: "files" }))
  useCommand("go.settings", () => go({ at: "settings" }))
  useCommand("go.help", () => go({ at: "help" }))
  useCommand("go.about", () => go({ at: "about" }))
  useCommand("answer.print", () => window.print())
  const sample = useAct("desk.sample")
  const toFiles = () => go({ at: "files" })
  useCommand("file.sample", () => void sample.run({}).then((done) => done && go({ at: "logbook" })))
  useCommand("file.new", toFiles)
  useCommand("file.open", toFiles)
  useCommand("file.import", open ? toFiles : null)
  useCommand("file.export", open ? toFiles : null)
  useCommand("file.back_up", open ? toFiles : null)
  const titled = titles[route.at]
  useEffect(() => {
    document.title = desk.open === null ? "Stintbook" : `${titled} - ${desk.open.name} - Stintbook`
  }, [titled, desk.open])
  return (
    <div className="frame">
      <Masthead desk={desk} route={route} />
      <main id="screen" tabIndex={-1}>
        {open || alwaysThere.has(route.at) ? <Screen route={route} desk={desk} /> : <FirstRun desk={desk} />}
      </main>
    </div>
  )
}

const alwaysThere: ReadonlySet<Route["at"]> = new Set<Route["at"]>(["files", "settings", "help", "about"])

const titles: Record<Route["at"], string> = {
  logbook: "Logbook",
  trip: "Trip",
  produces: "What produces",
  files: "Files",
  settings: "Settings",
  help: "Help",
  about: "About",
}

function Screen({ route, desk }: { readonly route: Route; readonly desk: DeskState }) {
  switch (route.at) {
    case "logbook":
      return <Logbook />
    case "trip":
      return <Trip trip={route.trip} />
    case "produces":
      return <Produces />
    case "files":
      return <Files desk={desk} />
    case "settings":
      return <Settings desk={desk} />
    case "help":
      return <Help />
    case "about":
      return <About />
  }
}

/** Theme and text size on the page itself, so that style sheets can read them. */
function useAppearance(preferences: Preferences | null): void {
  useEffect(() => {
    if (preferences === null) return
    document.documentElement.dataset["theme"] = preferences.theme
    document.documentElement.dataset["text"] = preferences.text_size
  }, [preferences])
}
