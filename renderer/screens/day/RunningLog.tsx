import { useEffect, useRef, useState } from "react"
import { Button } from "react-aria-components"
import { capital } from "../../../shared/casing.ts"
import type { Input, Output } from "../../../shared/api.ts"
import type { CommandId } from "../../../shared/commands.ts"
import { counted } from "../../../shared/figures.ts"
import { useCommand } from "../../app/actions.tsx"
import { clockIn } from "../../charts/clock.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { LineForm } from "../../parts/LineForm.tsx"
import { Problems } from "../../parts/ProblemText.tsx"
import { codesFor } from "./choices.ts"

type LogState = Output<"log.state">
type Running = LogState["running"][number]
type LogAct = Input<"log.act">["act"]
type Mark = Extract<LogAct, { do: "mark" }>["mark"]

const marks = [
  { id: "log.follow", mark: "follow", label: "Follow", many: "follows" },
  { id: "log.miss", mark: "miss", label: "Miss", many: "misses" },
  { id: "log.loss", mark: "loss", label: "Loss", many: "losses" },
  { id: "log.bitten", mark: "bitten off", label: "Bitten off", many: "bitten off" },
  { id: "log.landed", mark: "landed", label: "Landed", many: "landed" },
  { id: "log.hang_up", mark: "hang-up", label: "Hang-up", many: "hang-ups" },
  { id: "log.lure_lost", mark: "lure lost", label: "Lure lost", many: "lures lost" },
] as const satisfies readonly { id: CommandId; mark: Mark; label: string; many: string }[]

/** What is typed besides a key: what to tie on, or which fish it was. */
type Asking = { readonly what: "start" | "change" | "fish"; readonly stint: string | null }

/** Fishing as it goes: the present stint runs, and each thing that happens is one key. It is on disk before it is shown. */
export function RunningLog({
  trip,
  date,
  zone,
}: {
  readonly trip: string
  readonly date: string
  readonly zone: string
}) {
  const state = useCall("log.state", { trip })
  const act = useAct("log.act")
  const codes = useCall("codes.list", {}).value ?? []
  const [asking, setAsking] = useState<Asking | null>(null)
  const [which, setWhich] = useState(0)
  const running = state.value?.running ?? []
  const here = running[Math.min(which, running.length - 1)]
  const does = (wanted: LogAct) => void act.run({ trip, act: wanted })
  const marking = (mark: Mark) =>
    here === undefined
      ? null
      : () =>
          mark === "landed"
            ? setAsking({ what: "fish", stint: here.stint })
            : does({ do: "mark", stint: here.stint, mark })
  useCommand("log.follow", marking("follow"))
  useCommand("log.miss", marking("miss"))
  useCommand("log.loss", marking("loss"))
  useCommand("log.bitten", marking("bitten off"))
  useCommand("log.landed", marking("landed"))
  useCommand("log.hang_up", marking("hang-up"))
  useCommand("log.lure_lost", marking("lure lost"))
  useCommand(
    "log.start",
    here === undefined
      ? () => setAsking({ what: "start", stint: null })
      : () => does({ do: "stop", stint: here.stint }),
  )
  useCommand("log.change", here === undefined ? null : () => setAsking({ what: "change", stint: here.stint }))
  useCommand("log.rod", running.length < 2 ? null : () => setWhich((before) => (before + 1) % running.length))
  const clock = clockIn(zone)
  const typed = (words: string): void => {
    if (asking === null) return
    setAsking(null)
    if (asking.what === "fish" && asking.stint !== null) {
      const [species, length] = words.trim().split(/\s+|(?<=[a-z])(?=\d)/i)
      does({
        do: "mark",
        stint: asking.stint,
        mark: "landed",
        ...(species === undefined || species === "" ? {} : { species }),
        ...(length === undefined ? {} : { length }),
      })
      return
    }
    const said = words
      .trim()
      .split(/\s+/)
      .filter((word) => word !== "")
    const ofKind = (kind: "spot" | "presentation") =>
      said.find((word) =>
        codes.some((one) => one.kind === kind && one.code?.toLowerCase() === word.toLowerCase()),
      )
    const [spot, presentation] = [ofKind("spot"), ofKind("presentation")]
    does({
      do: "start",
      ...(spot === undefined ? {} : { spot }),
      ...(presentation === undefined
        ? said[0] === undefined || spot === said[0]
          ? {}
          : { presentation: said[0] }
        : { presentation }),
    })
  }
  return (
    <section className="running" aria-label="Running log">
      {running.length === 0 ? (
        <>
          <p className="said">Not fishing.</p>
          <p className="soft">
            {isNear(date)
              ? "A stint begins now, by the clock. Then one key tells each miss, fish, follow or hang-up."
              : "This is for a day while it is fished: a stint begun here begins now, and this trip is of another day. Type that day in its sheet or tape."}
          </p>
        </>
      ) : (
        running.map((one) => (
          <Stint
            key={one.stint}
            of={one}
            here={one === here && running.length > 1}
            clock={clock}
            codes={codes}
          />
        ))
      )}
      {asking === null ? (
        <div className="running-keys">
          <Button
            className="running-main"
            onPress={() =>
              here === undefined
                ? setAsking({ what: "start", stint: null })
                : does({ do: "stop", stint: here.stint })
            }
          >
            {here === undefined ? "Start" : "Stop"} <CommandKey id="log.start" />
          </Button>
          {here === undefined ? null : (
            <>
              <Button onPress={() => setAsking({ what: "change", stint: here.stint })}>
                Change <CommandKey id="log.change" />
              </Button>
              {marks.map(({ id, mark, label }) => (
                <Button key={id} onPress={() => marking(mark)?.()}>
                  {label} <CommandKey id={id} />
                </Button>
              ))}
              {running.length < 2 ? null : (
                <Button onPress={() => setWhich((before) => (before + 1) % running.length)}>
                  Other rod <CommandKey id="log.rod" />
                </Button>
              )}
            </>
          )}
        </div>
      ) : (
        <Ask asking={asking} onTyped={typed} onLeave={() => setAsking(null)} codes={codes} />
      )}
      <Problems of={[state.problem, act.problem]} />
      <p className="soft small" aria-live="polite">
        {state.value?.said === null || state.value === null
          ? "Each key is on disk before it is shown: a flat battery loses nothing."
          : `${capital(state.value.said)}.`}{" "}
        Undo <CommandKey id="history.undo" />
      </p>
    </section>
  )
}

function Stint({
  of,
  here,
  clock,
  codes,
}: {
  readonly of: Running
  readonly here: boolean
  readonly clock: ReturnType<typeof clockIn>
  readonly codes: Output<"codes.list">
}) {
  const now = useSeconds()
  const nameOf = (id: string | null): string | null => codes.find((one) => one.id === id)?.name ?? id
  const minutes = Math.max(0, Math.floor((now - of.start_at) / 60_000))
  const happened = marks
    .filter(({ mark }) => (of.marks[mark] ?? 0) > 0)
    .map(({ mark, label, many }) => {
      const count = of.marks[mark] ?? 0
      return count === 1 ? `1 ${label.toLowerCase()}` : `${count} ${many}`
    })
  return (
    <div className="running-stint" aria-current={here || undefined}>
      <p className="said">
        {nameOf(of.presentation) ?? "Presentation not said"}
        {of.spot === null ? "" : `, ${nameOf(of.spot) ?? ""}`}
      </p>
      <p className="running-clock">
        <span>{counted(minutes, "minute")}</span> since {clock.time(of.start_at)}
        {of.rods > 1 ? `, ${of.rods} rods` : ""}
        {of.angler === null ? "" : `, ${nameOf(of.angler) ?? ""}`}
      </p>
      <p>{happened.length === 0 ? <span className="soft">Nothing yet.</span> : `${happened.join(", ")}.`}</p>
    </div>
  )
}

/** Whether a trip's day may be being fished now: a night goes on past midnight, and zones differ. */
const isNear = (date: string): boolean => Math.abs(Date.now() - Date.parse(`${date}T12:00Z`)) < 36 * 3_600_000

/** The time, told anew every few seconds. */
function useSeconds(): number {
  const [now, setNow] = useState(() => Date.now())
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 5000)
    return () => clearInterval(timer)
  }, [])
  return now
}

/** One line to type: what to tie on, or which fish it was. */
function Ask({
  asking,
  codes,
  onTyped,
  onLeave,
}: {
  readonly asking: Asking
  readonly codes: Output<"codes.list">
  readonly onTyped: (words: string) => void
  readonly onLeave: () => void
}) {
  const field = useRef<HTMLInputElement>(null)
  const [words, setWords] = useState("")
  useEffect(() => field.current?.focus(), [])
  const word = words.split(/\s+/).at(-1) ?? ""
  const kinds = asking.what === "fish" ? (["species"] as const) : (["presentation", "spot"] as const)
  const choices = word === "" ? [] : kinds.flatMap((kind) => codesFor(word, kind, codes)).slice(0, 6)
  const label =
    asking.what === "fish"
      ? "Which fish, and its length: rd24. Enter alone for a fish of unknown species"
      : asking.what === "start"
        ? "Where and with what: md pt. Enter alone carries on as before"
        : "What to tie on now: its code"
  return (
    <LineForm
      id="running-line"
      ref={field}
      label={label}
      line={words}
      onLine={setWords}
      onEnter={() => onTyped(words)}
      onEscape={onLeave}
    >
      <p className="small soft">
        {choices.map(({ text, said }) => (
          <span key={text} className="choice-of">
            <b>{text}</b> {said}
          </span>
        ))}
      </p>
    </LineForm>
  )
}
