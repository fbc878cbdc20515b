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
  readonly when: "always" | "open" | "trips" | "trip" | "running" | "tackle" | "spots" | "answer" | "files"
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
  "trip.new": ["New trip", "n", "Log", false, "trips"],
  "trip.today": ["A trip today", "t", "Log", false, "open"],
  "trip.yesterday": ["A trip yesterday", "y", "Log", false, "open"],
  "day.read": ["Read the day", "Alt+U", "Log", true, "trip"],
  "day.sheet": ["The day as a sheet", "Alt+D", "Log", true, "trip"],
  "day.tape": ["The day as a tape", "Alt+T", "Log", true, "trip"],
  "day.fish": ["Fish and other strikes as a list", "Alt+J", "Log", true, "trip"],
  "day.log": ["Running log", "Alt+R", "Log", true, "trip"],
  "day.card": ["Trip card to print", "Alt+K", "Log", true, "trip"],
  "sheet.mend": ["Mend the first gap or overlap", "Alt+G", "Log", true, "trip"],
  "log.start": ["Start or stop the stint", "Space", "Log", false, "running"],
  "log.change": ["Change the presentation", "c", "Log", false, "running"],
  "log.follow": ["A follow", "f", "Log", false, "running"],
  "log.miss": ["A miss", "m", "Log", false, "running"],
  "log.loss": ["A fish lost", "l", "Log", false, "running"],
  "log.bitten": ["Bitten off", "b", "Log", false, "running"],
  "log.landed": ["A fish landed", "d", "Log", false, "running"],
  "log.hang_up": ["A hang-up", "g", "Log", false, "running"],
  "log.lure_lost": ["A lure lost", "k", "Log", false, "running"],
  "log.rod": ["The other rod", "o", "Log", false, "running"],
  "count.misses": ["Misses were counted, or not", "Alt+Shift+M", "Log", true, "trip"],
  "count.losses": ["Losses were counted, or not", "Alt+Shift+L", "Log", true, "trip"],
  "count.landed": ["Landed fish were counted, or not", "Alt+Shift+F", "Log", true, "trip"],
  "count.follows": ["Follows were counted, or not", "Alt+Shift+W", "Log", true, "trip"],
  "count.hang_ups": ["Hang-ups were counted, or not", "Alt+Shift+H", "Log", true, "trip"],
  "trip.close": ["Close the trip, or open it again", "Alt+Shift+C", "Log", true, "trip"],
  "trip.remove": ["Delete the trip", "Alt+Shift+Delete", "Log", true, "trip"],
  "history.undo": ["Undo", "Mod+Z", "Log", false, "open"],
  "history.redo": ["Redo", "Mod+Shift+Z", "Log", false, "open"],
  "go.history": ["History, and what was deleted", "Alt+H", "Log", true, "open"],
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
  "answer.page": ["Save the answer as a page", "Alt+W", "Answer", true, "answer"],
  "answer.print": ["Print", "Mod+P", "File", true, "always"],
  "go.settings": ["Settings", "Mod+,", "File", true, "always"],
  "go.help": ["Help", "F1", "Help", true, "always"],
  "go.tape_help": ["How a day is typed", "Alt+Y", "Help", true, "always"],
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
