import { expect, test, vi } from "vitest"
import { dayBook } from "./dayBook.ts"

/** 2026-05-15 6:20 in New York. */
const start = Date.UTC(2026, 4, 15, 10, 20)
const minutes = (n: number, seconds = 0): Date => new Date(start + n * 60_000 + seconds * 1000)

test("a day kept key by key is the day that its tape tells", async () => {
  vi.useFakeTimers({ toFake: ["Date"] })
  try {
    const { call, trip, id } = dayBook()
    const one = trip()
    const act = (wanted: Parameters<typeof call<"log.act">>[1]["act"]) =>
      call("log.act", { trip: one, act: wanted })
    vi.setSystemTime(minutes(0, 20))
    const { running, said } = await act({ do: "start", spot: "md", presentation: "tw" })
    expect(said).toBe("suspending minnow natural started")
    const stint = running[0]?.stint ?? ""
    vi.setSystemTime(minutes(7))
    await act({ do: "mark", stint, mark: "miss" })
    await act({ do: "mark", stint, mark: "hang-up" })
    vi.setSystemTime(minutes(12))
    const state = await act({ do: "mark", stint, mark: "landed", species: "rd", length: "24", kept: false })
    expect(state.running).toMatchObject([
      { spot: id("md"), presentation: id("tw"), marks: { miss: 1, "hang-up": 1, landed: 1, follow: 0 } },
    ])
    vi.setSystemTime(minutes(45))
    const changed = await act({ do: "start", presentation: "pt", why: "slow" })
    expect(changed.said).toBe("changed to paddle tail natural, 1/8 oz, hopped")
    vi.setSystemTime(minutes(45, 30))
    // within the same minute: the stint between has its seconds, not none
    const again = await act({ do: "start", presentation: "sp", spot: "sb" })
    vi.setSystemTime(minutes(80))
    await act({ do: "stop", stint: again.running[0]?.stint ?? "" })
    const { tape, day } = await call("day.read", { trip: one })
    expect(tape.split("\n")).toEqual(["620 md tw.g .m@627 rd24r@632 !slow", "705 pt", "7:05:30-740 sb sp"])
    expect(day.head).toMatchObject({ recorded: "live", status: "open", start_at: start })
    expect((await call("log.state", { trip: one })).running).toEqual([])
    await call("history.undo_last", {})
    expect((await call("log.state", { trip: one })).running.map(({ presentation }) => presentation)).toEqual([
      id("sp"),
    ])
  } finally {
    vi.useRealTimers()
  }
})

test("what cannot be logged is told in a sentence and changes nothing", async () => {
  const { call, trip } = dayBook()
  const one = trip()
  const { running } = await call("log.act", { trip: one, act: { do: "start", presentation: "tw" } })
  const stint = running[0]?.stint ?? ""
  const act = (wanted: Parameters<typeof call<"log.act">>[1]["act"]) =>
    call("log.act", { trip: one, act: wanted })
  await expect(act({ do: "start", presentation: "zz" })).rejects.toThrow('"zz" is no presentation of yours')
  await expect(act({ do: "mark", stint, mark: "landed", length: "long" })).rejects.toThrow(
    "Not a number: long.",
  )
  await expect(act({ do: "mark", stint: "x", mark: "miss" })).rejects.toThrow("no longer in this trip")
  expect((await call("log.state", { trip: one })).running.length).toBe(1)
})
