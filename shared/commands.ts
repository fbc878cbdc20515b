/**
 * Everything a person can do in the window, as data: the command list, the buttons, the native menus and the help page
 * all read these records. `key` is written as the page hears it; "Mod" is Ctrl, or Cmd on a Mac. `typing`: whether it
 * also works while something is being typed.
 */
export type Command = {
  readonly id: CommandId
  readonly label: string
  readonly key: string
  readonly menu: "File" | "Log" | "View" | "Answer" | "Help"
  readonly typing: boolean
  /** Where it makes sense: anywhere, with a logbook open, or on one screen. */
  readonly when: "always" | "open" | "trips" | "trip" | "tackle" | "spots" | "answer" | "files"
}

const rows = {
  "list.open": ["Show all commands", "Mod+K", "View", true, "always"],
  "go.logbook": ["Logbook", "Alt+1", "View", true, "open"],
  "go.tackle": ["Tackle", "Alt+2", "View", true, "open"],
  "go.spots": ["Spots", "Alt+3", "View", true, "open"],
  "go.produces": ["What produces", "Alt+4", "View", true, "open"],
  "go.files": ["Files", "Alt+8", "View", true, "always"],
  "go.roster": ["Species and anglers", "Alt+A", "View", true, "open"],
  "trips.search": ["Search the trips", "/", "View", false, "trips"],
  "trip.previous": ["The trip before", "[", "View", false, "trip"],
  "trip.next": ["The trip after", "]", "View", false, "trip"],
  "tackle.new": ["New presentation", "n", "Log", false, "tackle"],
  "tackle.copy": ["Copy and change the presentation", "c", "Log", false, "tackle"],
  "tackle.retire": ["Retire the presentation, or bring it back", "r", "Log", false, "tackle"],
  "spots.new": ["New spot", "n", "Log", false, "spots"],
  "file.sample": ["Open the sample logbook", "Alt+S", "File", true, "always"],
  "file.new": ["New logbook", "Alt+N", "File", true, "always"],
  "file.open": ["Open a logbook", "Alt+O", "File", true, "always"],
  "file.import": ["Import tables or station files", "Alt+I", "File", true, "open"],
  "file.export": ["Export as plain tables", "Alt+E", "File", true, "open"],
  "file.back_up": ["Back up now", "Alt+B", "File", true, "open"],
  "answer.copy": ["Copy the answer in words", "Alt+C", "Answer", true, "answer"],
  "answer.csv": ["Save the answer's numbers as CSV", "Alt+V", "Answer", true, "answer"],
  "answer.svg": ["Save the chart as SVG", "Alt+G", "Answer", true, "answer"],
  "answer.png": ["Save the chart as PNG", "Alt+P", "Answer", true, "answer"],
  "answer.print": ["Print", "Mod+P", "File", true, "always"],
  "go.settings": ["Settings", "Mod+,", "File", true, "always"],
  "go.help": ["Help", "F1", "Help", true, "always"],
  "go.about": ["About Stintbook", "Shift+F1", "Help", true, "always"],
} as const satisfies Record<string, readonly [string, string, Command["menu"], boolean, Command["when"]]>

export type CommandId = keyof typeof rows

const isCommandId = (id: string): id is CommandId => id in rows

/** All commands, in the order in which they are listed. */
export const commands: readonly Command[] = Object.keys(rows)
  .filter(isCommandId)
  .map((id) => {
    const [label, key, menu, typing, when] = rows[id]
    return { id, label, key, menu, typing, when }
  })
