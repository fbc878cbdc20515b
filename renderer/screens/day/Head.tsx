import { useState } from "react"
import { Button } from "react-aria-components"
import type { CommandId } from "../../../shared/commands.ts"
import type { DayHead } from "../../../shared/day.ts"
import type { HeadChange } from "../../../shared/tripActs.ts"
import { completenesses, purposes, recordings, tripStatuses } from "../../../shared/vocabulary.ts"
import { useCommand } from "../../app/actions.tsx"
import { go } from "../../app/route.ts"
import { tellAct } from "../../app/toldActs.ts"
import { dayLong } from "../../charts/clock.ts"
import { useCall } from "../../client/useCall.ts"
import { useSave } from "../../client/useSave.ts"
import { Choice } from "../../parts/Choice.tsx"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { Fold } from "../../parts/Fold.tsx"
import { KeptField } from "../../parts/KeptField.tsx"
import { RecordHistory } from "../../parts/RecordHistory.tsx"
import { Wrong } from "../../parts/Wrong.tsx"

const none = "not said"
const flags = [
  { column: "counted_misses", label: "misses", id: "count.misses" },
  { column: "counted_losses", label: "losses", id: "count.losses" },
  { column: "counted_landed", label: "landed", id: "count.landed" },
  { column: "counted_follows", label: "follows", id: "count.follows" },
  { column: "counted_hang_ups", label: "hang-ups", id: "count.hang_ups" },
] as const satisfies readonly { column: keyof DayHead; label: string; id: CommandId }[]

/** The trip's own part: who, what for, what was counted, how whole it is. Each is kept as it is said. */
export function Head({ trip }: { readonly trip: string }) {
  const head = useCall("trips.head", { trip }).value
  const anglers = useCall("anglers.list", {}).value ?? []
  const species = useCall("species.list", {}).value ?? []
  const save = useSave("trips.save")
  const remove = useSave("trips.remove")
  const [wrong, setWrong] = useState<string | null>(null)
  const keep = async (changes: HeadChange): Promise<string | null> => {
    const sentence = await save({ trip, changes })
    setWrong(sentence)
    return sentence
  }
  const flip = (column: (typeof flags)[number]["column"]) =>
    head === null ? null : () => void keep({ [column]: head[column] === 1 ? 0 : 1 })
  useCommand("count.misses", flip("counted_misses"))
  useCommand("count.losses", flip("counted_losses"))
  useCommand("count.landed", flip("counted_landed"))
  useCommand("count.follows", flip("counted_follows"))
  useCommand("count.hang_ups", flip("counted_hang_ups"))
  const close =
    head === null ? null : () => void keep({ status: head.status === "closed" ? "open" : "closed" })
  useCommand("trip.close", close)
  const removeTrip = async (date: string): Promise<void> => {
    const sentence = await remove({ trip })
    if (sentence !== null) return setWrong(sentence)
    go({ at: "logbook" })
    tellAct(`Deleted: the trip of ${dayLong(date)}.`)
  }
  useCommand("trip.remove", head === null ? null : () => void removeTrip(head.date))
  if (head === null) return null
  const choice = <W extends string>(
    label: string,
    words: readonly W[],
    value: W | null,
    onKeep: (word: W | null) => void,
    mayLack: boolean,
  ) => (
    <Choice
      label={label}
      sections={[
        {
          title: "",
          options: [...words, ...(mayLack ? [none] : [])].map((word) => ({ id: word, label: word })),
        },
      ]}
      value={value ?? none}
      onChange={(id) => onKeep(words.find((word) => word === id) ?? null)}
    />
  )
  return (
    <div className="day-head">
      <p>
        {choice(
          "Status",
          tripStatuses,
          head.status,
          (status) => status !== null && void keep({ status }),
          false,
        )}
        ,{" "}
        {choice(
          "How whole the record is",
          completenesses,
          head.completeness,
          (completeness) => completeness !== null && void keep({ completeness }),
          false,
        )}
        ; purpose {choice("Purpose", purposes, head.purpose, (purpose) => void keep({ purpose }), true)};
        target{" "}
        <Choice
          label="Target"
          sections={[
            {
              title: "",
              options: [...species.map(({ id, name }) => ({ id, label: name })), { id: none, label: none }],
            },
          ]}
          value={head.target_species_id ?? none}
          onChange={(id) => void keep({ target_species_id: id === none ? null : id })}
        />
        ; written down{" "}
        {choice("Recorded", recordings, head.recorded, (recorded) => void keep({ recorded }), true)}.
      </p>
      <p className="row small counted" role="group" aria-label="What was being counted">
        <span className="soft">Counted:</span>
        {flags.map(({ column, label, id }) => (
          <Button
            key={id}
            className="flag"
            aria-pressed={head[column] === 1}
            onPress={() => void keep({ [column]: head[column] === 1 ? 0 : 1 })}
          >
            {label} <CommandKey id={id} />
          </Button>
        ))}
      </p>
      <Fold title="Name, day, anglers, notes" level={2} small>
        <div className="kept-fields">
          <KeptField
            label="Name"
            value={head.label ?? ""}
            onKeep={(typed) => keep({ label: typed.trim() === "" ? null : typed.trim() })}
          />
          <KeptField
            label="Date"
            value={head.date}
            onKeep={(typed) =>
              /^\d{4}-\d{2}-\d{2}$/.test(typed.trim())
                ? keep({ date: typed.trim() })
                : Promise.resolve(`${typed} is not a date such as 2026-05-17.`)
            }
          />
          <KeptField label="Zone" value={head.zone} onKeep={(typed) => keep({ zone: typed.trim() })} />
        </div>
        <p className="row small" role="group" aria-label="Anglers">
          <span className="soft">Anglers:</span>
          {anglers.map(({ id, name }) => {
            const there = head.anglers.includes(id)
            return (
              <Button
                key={id}
                className="flag"
                aria-pressed={there}
                onPress={() =>
                  void keep({
                    anglers: there ? head.anglers.filter((one) => one !== id) : [...head.anglers, id],
                  })
                }
              >
                {name}
              </Button>
            )
          })}
        </p>
        <KeptField
          label="Notes"
          long
          value={head.notes ?? ""}
          onKeep={(typed) => keep({ notes: typed.trim() === "" ? null : typed.trim() })}
        />
        <p className="row small">
          <Button onPress={() => close?.()}>
            {head.status === "closed" ? "Open it again" : "Close the trip"} <CommandKey id="trip.close" />
          </Button>
          <Button onPress={() => void removeTrip(head.date)}>
            Delete the trip <CommandKey id="trip.remove" />
          </Button>
        </p>
        <RecordHistory entity="trip" id={trip} />
      </Fold>
      <Wrong sentence={wrong} />
    </div>
  )
}
