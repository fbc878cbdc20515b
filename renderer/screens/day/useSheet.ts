import { useCallback, useEffect, useMemo, useRef, useState } from "react"
import type { Input, Output } from "../../../shared/api.ts"
import type { Problem } from "../../../shared/problems.ts"
import { problemOf } from "../../../shared/rpc.ts"
import { sheetColumns, type SheetCell, type SheetColumn } from "../../../shared/sheet.ts"
import { useClient } from "../../client/useClient.ts"
import type { GridActs, GridCell, GridRow } from "../../parts/grid/types.ts"

type Sheet = Output<"day.cells">
type Edit = Input<"day.edit">["edits"][number]
/** An act on its way: its edits by the page's own keys of rows, and the rows that it makes. */
type Waiting = {
  readonly edits: readonly Edit[]
  readonly made: readonly string[]
  readonly cells: readonly string[]
}

export type SheetState = {
  readonly sheet: Sheet | null
  readonly rows: readonly GridRow[]
  readonly acts: GridActs
  readonly problem: Problem | null
  /** What was left as it is because it was changed elsewhere meanwhile. */
  readonly told: readonly string[]
  /** Whether something typed is not on disk yet. */
  readonly saving: boolean
}

const isColumn = (id: string): id is SheetColumn => sheetColumns.some((column) => column === id)
const cellKey = (key: string, column: string): string => `${key}/${column}`

/**
 * The day's sheet as it is typed: what was typed shows at once and is saved in order, one act after the other; rows that are
 * being made keep the key under which they were begun.
 */
export function useSheet(trip: string): SheetState {
  const client = useClient()
  const [sheet, setSheet] = useState<Sheet | null>(null)
  const [typed, setTyped] = useState<ReadonlyMap<string, string>>(new Map())
  const [fresh, setFresh] = useState<readonly { key: string; after: string | null }[]>([])
  const [problem, setProblem] = useState<Problem | null>(null)
  const [told, setTold] = useState<readonly string[]>([])
  const [busy, setBusy] = useState(0)
  const queue = useRef<Waiting[]>([])
  const running = useRef(false)
  /** How many acts of one's own have been sent. */
  const sent = useRef(0)
  const names = useRef(rowNames())
  const next = useRef(0)
  const [blank, setBlank] = useState("new 0")

  // What was asked for before an act of one's own was sent is older than that act's own answer, whenever it is heard.
  useEffect(() => {
    let left = false
    const read = async (): Promise<void> => {
      const before = sent.current
      try {
        const stored = await client.call("day.cells", { trip })
        if (!left && !running.current && before === sent.current) setSheet(stored)
      } catch (error) {
        if (!left) setProblem(problemOf(error))
      }
    }
    void read()
    const unlisten = client.onChanged(() => void read())
    return () => {
      left = true
      unlisten()
    }
  }, [client, trip])

  const pump = useCallback(async () => {
    if (running.current) return
    running.current = true
    for (;;) {
      const { act, count } = joined(queue.current)
      if (act === null) break
      sent.current += 1
      try {
        const saved = await client.call("day.edit", { trip, edits: named(act.edits, names.current) })
        queue.current.splice(0, count)
        act.made.forEach((key, i) => {
          const id = saved.added[i]
          if (id !== undefined) names.current.give(key, id)
        })
        setSheet(saved.sheet)
        setFresh((before) => before.filter(({ key }) => !act.made.includes(key)))
        const waiting = new Set(queue.current.flatMap(({ cells }) => cells))
        setTyped((before) => new Map([...before].filter(([cell]) => waiting.has(cell))))
        setTold(saved.told)
        setProblem(null)
      } catch (error) {
        setProblem(problemOf(error))
        queue.current.splice(0, count)
        // What was typed stays in sight; typing it again tries again.
        break
      } finally {
        setBusy(queue.current.length)
      }
    }
    running.current = false
  }, [client, trip])
  const push = useCallback(
    (edits: readonly Edit[], shown: readonly (readonly [string, string])[], made: readonly string[] = []) => {
      if (edits.length === 0) return
      queue.current.push({ edits, made, cells: shown.map(([cell]) => cell) })
      setBusy(queue.current.length)
      setTyped((before) => new Map([...before, ...shown]))
      void pump()
    },
    [pump],
  )

  const shownRows = useRef(new Map<string, { json: string; row: GridRow }>())
  const rows = useMemo(() => {
    const stable = (row: GridRow): GridRow => {
      const json = JSON.stringify(row)
      const known = shownRows.current.get(row.key)
      if (known?.json === json) return known.row
      shownRows.current.set(row.key, { json, row })
      return row
    }
    const all = (sheet?.rows ?? []).map(({ id, cells }) => {
      const key = names.current.keyOf(id)
      return stable({ key, cells: shownCells(key, cells, typed), remark: remarkBefore(sheet, id) })
    })
    const made = fresh.map(({ key }) => stable({ key, cells: shownCells(key, null, typed), remark: null }))
    for (const [i, { after }] of fresh.entries()) {
      const row = made[i]
      const at = after === null ? -1 : all.findIndex(({ key }) => key === after)
      if (row !== undefined) all.splice(at < 0 ? all.length : at + 1, 0, row)
    }
    return [...all, stable({ key: blank, cells: null, remark: null })]
  }, [sheet, typed, fresh, blank])

  const acts = useMemo((): GridActs => {
    const isMade = (key: string) =>
      !names.current.has(key) && queue.current.every(({ made }) => !made.includes(key))
    const begin = (key: string, after: string | null): void => {
      setFresh((before) => [...before, { key, after }])
      next.current += 1
      setBlank(`new ${next.current}`)
    }
    const set: GridActs["set"] = (key, column, text, was) => {
      if (!isColumn(column)) return
      const shown = [[cellKey(key, column), text]] as const
      // What a cell showed is held against it only where no edit of one's own is on its way that may change it first.
      if (!isMade(key)) push([setting(key, column, text, running.current ? null : was)], shown)
      else if (text !== "") {
        begin(key, null)
        push([{ do: "add", cells: { [column]: text } }], shown, [key])
      }
    }
    return {
      set,
      setAll: (cells, text) => {
        const known = cells.filter(({ key, column }) => !isMade(key) && isColumn(column))
        const [only] = cells
        if (known.length === 0 && only !== undefined && cells.length === 1)
          return set(only.key, only.column, text, only.was)
        push(
          known.flatMap(({ key, column, was }) =>
            isColumn(column) ? [setting(key, column, text, was)] : [],
          ),
          known.map(({ key, column }) => [cellKey(key, column), text] as const),
        )
      },
      paste: (key, column, block) => {
        if (!isColumn(column)) return
        const lines = block.map((line) => [...line])
        push([{ do: "paste", row: isMade(key) ? null : key, column, block: lines }], [])
      },
      fill: (keys, columns) =>
        push(
          columns.filter(isColumn).map((column) => ({ do: "fill" as const, rows: [...keys], column })),
          [],
        ),
      remove: (keys) => push([{ do: "remove", rows: [...keys] }], []),
      insert: (after) => {
        if (isMade(after)) return
        const key = `new ${next.current}`
        begin(key, after)
        push([{ do: "add", after, cells: {} }], [], [key])
      },
      mend: (key) => {
        const id = names.current.idOf(key)
        const found = latest.current?.times.find(({ row }) => row === id) ?? latest.current?.times[0]
        const [fix] = found?.fixes ?? []
        if (fix !== undefined) push(fix.edits, [])
      },
    }
  }, [push])
  const latest = useRef(sheet)
  latest.current = sheet
  return { sheet, rows, acts, problem, told, saving: busy > 0 }
}

/**
 * The acts at the head of the queue as one: cells typed while an earlier save was on its way are kept together, those of a row
 * that is being made with the row itself. Pasting, filling and removing are acts of their own.
 */
function joined(queue: readonly Waiting[]): { act: Waiting | null; count: number } {
  const typing = queue.findIndex(({ edits }) => edits.some((edit) => edit.do !== "set" && edit.do !== "add"))
  const count = typing === -1 ? queue.length : Math.max(1, typing)
  const [first] = queue
  if (first === undefined) return { act: null, count: 0 }
  if (count === 1) return { act: first, count }
  const acts = queue.slice(0, count)
  const rows = new Map<string, Record<string, string>>()
  const edits: Edit[] = []
  for (const { edits: own, made } of acts)
    for (const edit of own) {
      const [key] = made
      if (edit.do === "add" && key !== undefined) {
        const cells = { ...edit.cells }
        rows.set(key, cells)
        edits.push({ ...edit, cells })
      } else if (edit.do === "set" && rows.has(edit.row))
        Object.assign(rows.get(edit.row) ?? {}, { [edit.column]: edit.text })
      else edits.push(edit)
    }
  return {
    act: { edits, made: acts.flatMap(({ made }) => made), cells: acts.flatMap(({ cells }) => cells) },
    count,
  }
}

/** The page's keys of rows beside the store's: a row keeps the key under which it was begun. */
type RowNames = {
  readonly give: (key: string, id: string) => void
  readonly keyOf: (id: string) => string
  readonly idOf: (key: string) => string
  readonly has: (key: string) => boolean
}

function rowNames(): RowNames {
  const ids = new Map<string, string>()
  const keys = new Map<string, string>()
  return {
    give: (key, id) => {
      ids.set(key, id)
      keys.set(id, key)
    },
    keyOf: (id) => keys.get(id) ?? id,
    idOf: (key) => ids.get(key) ?? key,
    has: (key) => ids.has(key) || !key.startsWith("new "),
  }
}

const setting = (row: string, column: SheetColumn, text: string, was: string | null): Edit => ({
  do: "set",
  row,
  column,
  text,
  ...(was === null ? {} : { was }),
})

/** Edits by the store's own ids. */
const named = (edits: readonly Edit[], names: RowNames): Edit[] =>
  edits.map((edit) => {
    switch (edit.do) {
      case "set":
        return { ...edit, row: names.idOf(edit.row) }
      case "add":
        return typeof edit.after === "string" ? { ...edit, after: names.idOf(edit.after) } : edit
      case "remove":
      case "fill":
        return { ...edit, rows: edit.rows.map((row) => names.idOf(row)) }
      case "paste":
        return { ...edit, row: edit.row === null ? null : names.idOf(edit.row) }
    }
  })

/** How the tape writes a place and a presentation that are not known. */
const nothing: ReadonlySet<string> = new Set(["[]", "[?]"])

function shownCells(
  key: string,
  cells: Readonly<Record<SheetColumn, SheetCell>> | null,
  typed: ReadonlyMap<string, string>,
): Record<string, GridCell> {
  return Object.fromEntries(
    sheetColumns.map((column): [string, GridCell] => {
      const stored = cells?.[column]
      const own = typed.get(cellKey(key, column))
      const text = stored === undefined || stored.carried || nothing.has(stored.text) ? "" : stored.text
      return [
        column,
        {
          text: own ?? text,
          // What is carried changes with the rows above: one's own edits on their way may change it, nobody's typing is lost by it.
          was: own === undefined && stored?.carried !== true ? (stored?.text ?? null) : null,
          carried: stored?.carried === true && !nothing.has(stored.text) ? stored.text : null,
          said: own === undefined ? (stored?.said ?? "") : "",
          wrong: own === undefined ? (stored?.unclear?.sentence ?? null) : null,
        },
      ]
    }),
  )
}

/** What is told of the time before a row; the same stretch is told once, where several lanes have it. */
function remarkBefore(sheet: Sheet | null, row: string): string | null {
  const times = sheet?.times ?? []
  const found = times.find((time) => time.row === row)
  const first = times.find(({ sentence }) => sentence === found?.sentence)
  return found !== undefined && found === first ? found.sentence : null
}
