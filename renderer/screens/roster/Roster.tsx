import type { AnglerListed } from "../../../shared/anglers.ts"
import { limitCaution, type SpeciesListed } from "../../../shared/fish.ts"
import { presets, quantityFigure, readerUnit, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { convert, units as unitTable } from "../../../shared/units.ts"
import { lengthTypes } from "../../../shared/vocabulary.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { useSave } from "../../client/useSave.ts"
import { Choice } from "../../parts/Choice.tsx"
import { KeptField } from "../../parts/KeptField.tsx"
import { NewNamed } from "../../parts/NewNamed.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"

/** Species and anglers: what they are called, their codes, and the user's own limits. */
export default function Roster() {
  const species = useCall("species.list", {})
  const anglers = useCall("anglers.list", {})
  const units = useCall("settings.read", {}).value?.units ?? presets.metric
  return (
    <>
      <h1>Species and anglers</h1>
      <p className="after">Each has a short code of your own, to be typed while you log a day.</p>
      <section>
        <h2>Species</h2>
        {species.problem === null ? null : <ProblemText problem={species.problem} />}
        {species.value === null ? null : <SpeciesTable species={species.value} units={units} />}
        <NewRow method="species.save" kind="species" label="New species" placeholder="red drum" />
        {species.value === null ? null : <Weights species={species.value} />}
        <p className="caution">
          <b>Limits.</b> {limitCaution}
        </p>
      </section>
      <section>
        <h2>Anglers</h2>
        {anglers.problem === null ? null : <ProblemText problem={anglers.problem} />}
        {anglers.value === null || anglers.value.length === 0 ? null : (
          <AnglerTable anglers={anglers.value} />
        )}
        <NewRow method="anglers.save" kind="angler" label="New angler" placeholder="first name" />
      </section>
    </>
  )
}

const notSaid = "not said"
const lengthSections = [
  { title: "", options: [notSaid, ...lengthTypes].map((word) => ({ id: word, label: word })) },
]

const orNull = (typed: string): string | null => (typed.trim() === "" ? null : typed.trim())

function SpeciesTable({
  species,
  units,
}: {
  readonly species: readonly SpeciesListed[]
  readonly units: ReaderUnits
}) {
  const save = useSave("species.save")
  const unit = readerUnit("mm", units)
  const symbol = unitTable[unit].symbol
  const length = (one: SpeciesListed, column: "own_min_length_mm" | "own_max_length_mm", label: string) => {
    const value = one[column]
    return (
      <KeptField
        label={`${label} of ${one.name}`}
        hidden
        className="number"
        value={value === null ? "" : quantityFigure(value, "mm", units).replace(/\.0+$/, "")}
        onKeep={(typed) => {
          const number = typed.trim() === "" ? null : Number(typed)
          return number !== null && !(number > 0)
            ? Promise.resolve(`${typed} is not a length.`)
            : save({ id: one.id, [column]: number === null ? null : convert(number, unit, "mm") })
        }}
      />
    )
  }
  if (species.length === 0) return <p className="soft">None yet: name the first one you fish for.</p>
  return (
    <div className="wide" role="region" aria-label="Species" tabIndex={0}>
      <table className="roster">
        <thead>
          <tr>
            {["Code", "Name", "Scientific name", "Length"].map((head) => (
              <th key={head} scope="col" className="words">
                {head}
              </th>
            ))}
            <th scope="col">least, {symbol}</th>
            <th scope="col">most, {symbol}</th>
            <th scope="col">bag</th>
            <th scope="col" className="words">
              Source
            </th>
            <th scope="col" className="words">
              Date
            </th>
            <th scope="col">landed</th>
          </tr>
        </thead>
        <tbody>
          {species.map((one) => (
            <tr key={one.id}>
              <CodeCell of={one} onKeep={save} />
              <NameCell of={one} wanted="A species wants a name." onKeep={save} />
              <td className="words">
                <KeptField
                  label={`Scientific name of ${one.name}`}
                  hidden
                  className="italic"
                  value={one.scientific_name ?? ""}
                  onKeep={(typed) => save({ id: one.id, scientific_name: orNull(typed) })}
                />
              </td>
              <td className="words">
                <Choice
                  label={`How the length of ${one.name} is measured`}
                  sections={lengthSections}
                  value={one.length_type ?? notSaid}
                  onChange={(chosen) =>
                    void save({
                      id: one.id,
                      length_type: lengthTypes.find((type) => type === chosen) ?? null,
                    })
                  }
                />
              </td>
              <td>{length(one, "own_min_length_mm", "Least length")}</td>
              <td>{length(one, "own_max_length_mm", "Most length")}</td>
              <td>
                <KeptField
                  label={`Bag of ${one.name}`}
                  hidden
                  className="number"
                  value={one.own_bag === null ? "" : String(one.own_bag)}
                  onKeep={(typed) => {
                    const bag = typed.trim() === "" ? null : Number(typed)
                    return bag !== null && !(Number.isInteger(bag) && bag >= 0)
                      ? Promise.resolve(`${typed} is not a number of fish.`)
                      : save({ id: one.id, own_bag: bag })
                  }}
                />
              </td>
              <td className="words">
                <KeptField
                  label={`Source of the limits of ${one.name}`}
                  hidden
                  value={one.limit_source ?? ""}
                  onKeep={(typed) => save({ id: one.id, limit_source: orNull(typed) })}
                />
              </td>
              <td className="words">
                <KeptField
                  label={`Date of the limits of ${one.name}`}
                  hidden
                  className="date"
                  value={one.limit_date ?? ""}
                  placeholder="2026-01-01"
                  onKeep={(typed) => save({ id: one.id, limit_date: orNull(typed) })}
                />
              </td>
              <td>{one.landed}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** What can be told of the weights of fish that were not weighed, for the species of which any was. */
function Weights({ species }: { readonly species: readonly SpeciesListed[] }) {
  const told = species.filter(({ weighed }) => weighed > 0)
  return (
    <>
      <h3>Weights not taken</h3>
      {told.length === 0 ? (
        <p className="soft">
          Weigh some of the fish you measure: from ten of a species on, the weights of others are estimated
          from their length, always marked as estimated, and left out of every table and answer.
        </p>
      ) : (
        <ul className="plainlist">
          {told.map(({ id, name, weights_said }) => (
            <li key={id}>
              <b>{name}.</b> {weights_said}
            </li>
          ))}
        </ul>
      )}
    </>
  )
}

type Named = { readonly id: string; readonly name: string; readonly code: string | null }

function CodeCell({
  of: { id, name, code },
  onKeep,
}: {
  readonly of: Named
  readonly onKeep: (change: { id: string; code: string | null }) => Promise<string | null>
}) {
  return (
    <td className="words">
      <KeptField
        label={`Code of ${name}`}
        hidden
        className="own-code"
        value={code ?? ""}
        onKeep={(typed) => onKeep({ id, code: orNull(typed.toLowerCase()) })}
      />
    </td>
  )
}

function NameCell({
  of: { id, name },
  wanted,
  onKeep,
}: {
  readonly of: Named
  /** Said where the name was emptied. */
  readonly wanted: string
  readonly onKeep: (change: { id: string; name: string }) => Promise<string | null>
}) {
  return (
    <td className="words">
      <KeptField
        label={`Name of ${name}`}
        hidden
        value={name}
        onKeep={(typed) =>
          typed.trim() === "" ? Promise.resolve(wanted) : onKeep({ id, name: typed.trim() })
        }
      />
    </td>
  )
}

function AnglerTable({ anglers }: { readonly anglers: readonly AnglerListed[] }) {
  const save = useSave("anglers.save")
  return (
    <div className="wide" role="region" aria-label="Anglers" tabIndex={0}>
      <table className="roster text">
        <thead>
          <tr>
            <th scope="col">Code</th>
            <th scope="col" className="words">
              Name
            </th>
            <th scope="col" className="words">
              Note
            </th>
            <th scope="col">stints</th>
          </tr>
        </thead>
        <tbody>
          {anglers.map((one) => (
            <tr key={one.id}>
              <CodeCell of={one} onKeep={save} />
              <NameCell of={one} wanted="An angler wants a name." onKeep={save} />
              <td className="words">
                <KeptField
                  label={`Note on ${one.name}`}
                  hidden
                  value={one.notes ?? ""}
                  onKeep={(typed) => save({ id: one.id, notes: orNull(typed) })}
                />
              </td>
              <td>{one.stints}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** A new species or angler by its name. */
function NewRow({
  method,
  kind,
  label,
  placeholder,
}: {
  readonly method: "species.save" | "anglers.save"
  readonly kind: "species" | "angler"
  readonly label: string
  readonly placeholder: string
}) {
  const saving = useAct(method)
  return (
    <NewNamed
      kind={kind}
      label={label}
      placeholder={placeholder}
      wrong={saving.problem?.message ?? null}
      onKeep={async (named) => (await saving.run(named)) !== null}
    />
  )
}
