import { useCallback, useEffect, useMemo, useRef, useState } from "react"
import type { Output } from "../../../shared/api.ts"
import type { Problem } from "../../../shared/problems.ts"
import { problemOf } from "../../../shared/rpc.ts"
import { sheetColumns, type SheetColumn } from "../../../shared/sheet.ts"
import { useClient } from "../../client/useClient.ts"
import type { GridActs, GridRow } from "../../parts/grid/types.ts"
import { joined, named, rowNames, setting, type Edit, type Waiting } from "./sheetActs.ts"
import { cellKey, remarkBefore, shownCells } from "./shownRows.ts"

type Sheet = Output<"day.cells">

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
