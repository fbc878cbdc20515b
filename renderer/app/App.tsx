import { lazy, Suspense, useCallback, useEffect, useRef, useState } from "react"
import type { CommandId } from "../../shared/commands.ts"
import type { DeskState, Preferences } from "../../shared/desk.ts"
import type { Client } from "../../shared/rpc.ts"
import { useAct } from "../client/useAct.ts"
import { useCall } from "../client/useCall.ts"
import { ClientContext } from "../client/useClient.ts"
import { ProblemText } from "../parts/ProblemText.tsx"
import { About } from "../screens/about/About.tsx"
import { Files } from "../screens/files/Files.tsx"
import { FirstRun } from "../screens/files/FirstRun.tsx"
import { Rescue } from "../screens/files/Rescue.tsx"
import { Help } from "../screens/help/Help.tsx"
import { Logbook } from "../screens/logbook/Logbook.tsx"
import { Trip } from "../screens/logbook/Trip.tsx"
import { Produces } from "../screens/produces/Produces.tsx"
import { ActionsProvider, useActions, useCommand } from "./actions.tsx"
import { CommandList } from "./CommandList.tsx"
import { IncomingProvider, useDrop, useIncoming } from "./incoming.tsx"
import { UndoRedo } from "./UndoRedo.tsx"
import { Masthead } from "./Masthead.tsx"
import { regionUnits } from "./regionUnits.ts"
import { go, useRoute, type Route } from "./route.ts"

/** Comes when it is wanted: the first screen does not wait for it. */
const History = lazy(() => import("../screens/history/History.tsx"))
const TapeHelp = lazy(() => import("../screens/help/TapeHelp.tsx"))
const Roster = lazy(() => import("../screens/roster/Roster.tsx"))
const Spots = lazy(() => import("../screens/spots/Spots.tsx"))
const Tackle = lazy(() => import("../screens/tackle/Tackle.tsx"))
/** Rarely wanted, with a control that nothing else needs. */
const Settings = lazy(() => import("../screens/settings/Settings.tsx"))

/** The window: masthead, the screen of the present address, and the command list. */
export function App({ client, gone }: { readonly client: Client; readonly gone: Promise<void> }) {
  const [lost, setLost] = useState(false)
  useEffect(() => void gone.then(() => setLost(true)), [gone])
  return (
    <ClientContext value={client}>
      <ActionsProvider>
        <IncomingProvider>{lost ? <Gone /> : <Desk />}</IncomingProvider>
      </ActionsProvider>
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
      <div className="frame">
        <header className="masthead">
          <span className="name">Stintbook</span>
        </header>
        <main>{desk.problem === null ? null : <ProblemText problem={desk.problem} />}</main>
      </div>
    )
  return (
    <>
      <Screens desk={desk.value} />
      <UndoRedo open={desk.value.open !== null && desk.value.open.read_only === null} />
      <CommandList />
    </>
  )
}

function Screens({ desk }: { readonly desk: DeskState }) {
  const route = useRoute()
  useCommandsEverywhere(desk)
  const titled = titles[route.at]
  useEffect(() => {
    document.title = desk.open === null ? "Stintbook" : `${titled} - ${desk.open.name} - Stintbook`
  }, [titled, desk.open])
  const screen = useBeginning(route)
  return (
    <div className="frame">
      <Masthead desk={desk} route={route} />
      <main id="screen" tabIndex={-1} ref={screen} aria-label={titled}>
        <Trouble desk={desk} />
        {desk.open !== null || alwaysThere.has(route.at) ? (
          <Suspense fallback={null}>
            <Screen route={route} desk={desk} />
          </Suspense>
        ) : (
          <FirstRun desk={desk} />
        )}
      </main>
    </div>
  )
}

/** Why no logbook is open where that was not the user's wish, and what can be done. */
const Trouble = ({ desk: { open, problem, damaged } }: { readonly desk: DeskState }) =>
  open !== null || problem === null ? null : (
    <>
      <p className="problem" role="alert">
        {problem}
      </p>
      {damaged === null ? null : <Rescue logbook={damaged} />}
    </>
  )

/** What can be done on every screen; what belongs to the page of files is done there. */
function useCommandsEverywhere({ open }: DeskState): void {
  const { later } = useActions()
  const { leave } = useIncoming()
  const isOpen = open !== null
  const canWrite = isOpen && open.read_only === null
  useCommand("go.logbook", isOpen ? () => go({ at: "logbook" }) : null)
  useCommand("go.tackle", isOpen ? () => go({ at: "tackle" }) : null)
  useCommand("go.spots", isOpen ? () => go({ at: "spots" }) : null)
  useCommand("go.roster", isOpen ? () => go({ at: "roster" }) : null)
  useCommand("go.history", isOpen ? () => go({ at: "history" }) : null)
  useCommand("go.produces", isOpen ? () => go({ at: "produces" }) : null)
  useCommand("go.files", () => go({ at: "files" }))
  useCommand("go.settings", () => go({ at: "settings" }))
  useCommand("go.help", () => go({ at: "help" }))
  useCommand("go.tape_help", () => go({ at: "tape-help" }))
  useCommand("go.about", () => go({ at: "about" }))
  useCommand("answer.print", () => window.print())
  const sample = useAct("desk.sample")
  useCommand(
    "file.sample",
    () => void sample.run({ units: regionUnits }).then((done) => done && go({ at: "logbook" })),
  )
  const opening = useAct("trips.open")
  const onDay = (line: string) =>
    canWrite
      ? () =>
          void opening
            .run({ line })
            .then((opened) => opened !== null && go({ at: "trip", trip: opened.trip, view: "sheet" }))
      : null
  useCommand("trip.today", onDay("today"))
  useCommand("trip.yesterday", onDay("yesterday"))
  const onFiles = (id: CommandId) => () => {
    later(id)
    go({ at: "files" })
  }
  useCommand("file.new", onFiles("file.new"))
  useCommand("file.open", onFiles("file.open"))
  useCommand("file.import", canWrite ? onFiles("file.import") : null)
  useCommand("file.export", isOpen ? onFiles("file.export") : null)
  useCommand("file.back_up", isOpen ? onFiles("file.back_up") : null)
  const dropped = useCallback(
    (files: readonly File[]) => {
      leave(files)
      go({ at: "files" })
    },
    [leave],
  )
  useDrop(canWrite ? dropped : null)
}

/**
 * Begins another screen at its top and moves the focus there, so that the keyboard and a screen reader go along. The logbook
 * and a trip see to their own place.
 */
function useBeginning({ at }: Route) {
  const screen = useRef<HTMLElement>(null)
  const before = useRef(at)
  useEffect(() => {
    if (before.current === at) return
    before.current = at
    if (at === "trip" || at === "logbook") return
    window.scrollTo(0, 0)
    screen.current?.focus({ preventScroll: true })
  }, [at])
  return screen
}

const alwaysThere: ReadonlySet<Route["at"]> = new Set<Route["at"]>([
  "files",
  "settings",
  "help",
  "tape-help",
  "about",
])

const titles: Record<Route["at"], string> = {
  logbook: "Logbook",
  trip: "Trip",
  tackle: "Tackle",
  spots: "Spots",
  roster: "Species and anglers",
  history: "History",
  "tape-help": "How a day is typed",
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
      return <Trip trip={route.trip} view={route.view ?? null} />
    case "history":
      return <History />
    case "tape-help":
      return <TapeHelp />
    case "tackle":
      return <Tackle />
    case "spots":
      return <Spots />
    case "roster":
      return <Roster />
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
