import { useCallback, useEffect, useMemo, useRef, useState } from "react"
import type { Problem } from "../../../shared/problems.ts"
import { type Client, problemOf } from "../../../shared/rpc.ts"
import type { GridEdit, SheetCell } from "../../../shared/sheet.ts"
import { waitForMine } from "../../client/saving.ts"
import { useClient } from "../../client/useClient.ts"
import type { GridActs, GridRow } from "../../parts/grid/types.ts"
import { named, rowNames, setting, type Waiting } from "./sheetActs.ts"
import { inPlaces } from "./rowPlaces.ts"
import { cellKey, shownCells } from "./shownRows.ts"

/** A sheet as the core tells it. */
export type Typed<C extends string> = {
  readonly rows: readonly { readonly id: string; readonly cells: Readonly<Record<C, SheetCell>> }[]
}
type Saved<S> = {
  readonly sheet: S
  readonly named: Readonly<Record<string, string>>
  readonly told: readonly string[]
}

/** How a sheet is read and its acts are kept, and how its rows are shown. */
export type SheetOf<C extends string, S extends Typed<C>> = {
  readonly columns: readonly C[]
  readonly read: (client: Client, trip: string) => Promise<S>
  readonly edit: (
    client: Client,
    acts: { trip: string; edits: GridEdit<C>[]; further: GridEdit<C>[][] },
  ) => Promise<Saved<S>>
  readonly remarkBefore: (sheet: S | null, row: string) => string | null
  /** Whether a row stays where it was typed until the page is opened again, though the core has it elsewhere by now. */
  readonly staysInPlace: boolean
}

export type SheetState<C extends string, S> = {
  readonly sheet: S | null
  readonly rows: readonly GridRow[]
  readonly acts: GridActs
  /** Keeps edits that belong to no cell as one act. */
  readonly keep: (edits: readonly GridEdit<C>[]) => void
  readonly problem: Problem | null
  /** What was left as it is because it was changed elsewhere meanwhile. */
  readonly told: readonly string[]
  /** Whether something typed is not on disk yet. */
  readonly saving: boolean
}

/**
 * A sheet as it is typed: what was typed shows at once and is saved in order; what waits while a save is on its way goes with the
 * next one, each act to be undone by itself. Rows that are being made keep the key under which they were begun.
 */
export function useTypedSheet<C extends string, S extends Typed<C>>(
  trip: string,
  of: SheetOf<C, S>,
): SheetState<C, S> {
  const client = useClient()
  const [sheet, setSheet] = useState<S | null>(null)
  const [typed, setTyped] = useState<ReadonlyMap<string, string>>(new Map())
  const [fresh, setFresh] = useState<readonly { key: string; after: string | null }[]>([])
  const [problem, setProblem] = useState<Problem | null>(null)
  const [told, setTold] = useState<readonly string[]>([])
  const [busy, setBusy] = useState(0)
  const queue = useRef<Waiting<C>[]>([])
  const running = useRef<Promise<void> | null>(null)
  /** How many calls of one's own have been sent. */
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
        const stored = await of.read(client, trip)
        if (!left && running.current === null && before === sent.current) setSheet(stored)
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
  }, [client, trip, of])

  const pump = useCallback(async () => {
    while (queue.current.length > 0) {
      const waiting = [...queue.current]
      const [edits = [], ...further] = waiting.map((act) => named(act.edits, names.current))
      sent.current += 1
      try {
        const saved = await of.edit(client, { trip, edits, further })
        queue.current.splice(0, waiting.length)
        for (const [key, id] of Object.entries(saved.named)) names.current.give(key, id)
        setSheet(saved.sheet)
        setFresh((before) => before.filter(({ key }) => !waiting.some(({ made }) => made === key)))
        const cells = new Set(queue.current.flatMap((act) => act.cells))
        setTyped((before) => new Map([...before].filter(([cell]) => cells.has(cell))))
        setTold(saved.told)
        setProblem(null)
      } catch (error) {
        setProblem(problemOf(error))
        queue.current.splice(0, waiting.length)
        // What was typed stays in sight; typing it again tries again.
        break
      } finally {
        setBusy(queue.current.length)
      }
    }
    running.current = null
  }, [client, trip, of])
  useEffect(() => waitForMine(() => running.current ?? Promise.resolve()), [])
  const push = useCallback(
    (
      edits: readonly GridEdit<C>[],
      shown: readonly (readonly [string, string])[] = [],
      made: string | null = null,
    ) => {
      if (edits.length === 0) return
      queue.current.push({ edits, made, cells: shown.map(([cell]) => cell) })
      setBusy(queue.current.length)
      if (shown.length > 0) setTyped((before) => new Map([...before, ...shown]))
      running.current ??= pump()
    },
    [pump],
  )

  const shownRows = useRef(new Map<string, { json: string; row: GridRow }>())
  const places = useRef<readonly string[]>([])
  const rows = useMemo(() => {
    const stable = (row: GridRow): GridRow => {
      const json = JSON.stringify(row)
      const known = shownRows.current.get(row.key)
      if (known?.json === json) return known.row
      shownRows.current.set(row.key, { json, row })
      return row
    }
    const cellsOf = (key: string, cells: Readonly<Record<C, SheetCell>> | null) =>
      shownCells(of.columns, key, cells, typed)
    const stored = (sheet?.rows ?? []).map(({ id, cells }) => {
      const key = names.current.keyOf(id)
      return stable({ key, cells: cellsOf(key, cells), remark: of.remarkBefore(sheet, id) })
    })
    const placed = of.staysInPlace ? inPlaces(places.current, stored, ({ key }) => key) : [...stored]
    for (const { key, after } of fresh) {
      const at = after === null ? -1 : placed.findIndex((row) => row.key === after)
      const row = stable({ key, cells: cellsOf(key, null), remark: null })
      placed.splice(at < 0 ? placed.length : at + 1, 0, row)
    }
    places.current = placed.map(({ key }) => key)
    return [...placed, stable({ key: blank, cells: null, remark: null })]
  }, [of, sheet, typed, fresh, blank])

  const acts = useMemo((): GridActs => {
    const columnOf = (id: string): C | null => of.columns.find((column) => column === id) ?? null
    const isMade = (key: string) => !names.current.has(key) && queue.current.every(({ made }) => made !== key)
    /** Where a new row at the end goes, if the rows shown are not in the core's order. */
    const behindLast = (): { after?: string } => {
      const last = places.current.at(-1)
      return of.staysInPlace && last !== undefined ? { after: last } : {}
    }
    const begin = (key: string, after: string | null): void => {
      setFresh((before) => [...before, { key, after }])
      next.current += 1
      setBlank(`new ${next.current}`)
    }
    const set: GridActs["set"] = (key, id, text, was) => {
      const column = columnOf(id)
      if (column === null) return
      const shown = [[cellKey(key, column), text]] as const
      // What a cell showed is held against it only where no edit of one's own is on its way that may change it first.
      if (!isMade(key)) push([setting(key, column, text, running.current === null ? was : null)], shown)
      else if (text !== "") {
        begin(key, null)
        const cells: Partial<Record<C, string>> = {}
        cells[column] = text
        push([{ do: "add", ...behindLast(), as: key, cells }], shown, key)
      }
    }
    return {
      set,
      setAll: (cells, text) => {
        const known = cells.flatMap(({ key, column: id, was }) => {
          const column = columnOf(id)
          return isMade(key) || column === null ? [] : [{ key, column, was }]
        })
        const [only] = cells
        if (known.length === 0 && only !== undefined && cells.length === 1)
          return set(only.key, only.column, text, only.was)
        push(
          known.map(({ key, column, was }) => setting(key, column, text, was)),
          known.map(({ key, column }) => [cellKey(key, column), text] as const),
        )
      },
      paste: (key, id, block) => {
        const column = columnOf(id)
        if (column === null) return
        const row = isMade(key) ? null : key
        push([{ do: "paste", row, ...behindLast(), column, block: block.map((line) => [...line]) }])
      },
      fill: (keys, ids) =>
        push(
          ids.flatMap((id) => {
            const column = columnOf(id)
            return column === null ? [] : [{ do: "fill" as const, rows: [...keys], column }]
          }),
        ),
      remove: (keys) => push([{ do: "remove", rows: [...keys] }]),
      insert: (after) => {
        if (isMade(after)) return
        const key = `new ${next.current}`
        begin(key, after)
        push([{ do: "add", after, as: key, cells: {} }], [], key)
      },
    }
  }, [of, push])
  return { sheet, rows, acts, keep: push, problem, told, saving: busy > 0 }
}
