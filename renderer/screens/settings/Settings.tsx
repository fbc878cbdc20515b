import { Label, Radio, RadioGroup } from "react-aria-components"
import type { DeskState, Preferences } from "../../../shared/desk.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { HomeZone } from "./HomeZone.tsx"

const themes: readonly Preferences["theme"][] = ["system", "light", "dark"]
const sizes: readonly Preferences["text_size"][] = ["small", "normal", "large", "very large"]

/** What this computer's user likes, and what the open logbook keeps: its units and its home zone. */
export function Settings({ desk }: { readonly desk: DeskState }) {
  const preferences = useCall("desk.preferences", {})
  const prefer = useAct("desk.prefer")
  return (
    <article className="text">
      <h1>Settings</h1>
      <h2>This computer</h2>
      {preferences.value === null ? null : (
        <>
          <Radios
            label="Theme"
            options={themes}
            value={preferences.value.theme}
            onChange={(theme) => void prefer.run({ theme })}
          />
          <Radios
            label="Text size"
            options={sizes}
            value={preferences.value.text_size}
            onChange={(text_size) => void prefer.run({ text_size })}
          />
        </>
      )}
      {prefer.problem === null ? null : <ProblemText problem={prefer.problem} />}
      {desk.open === null ? null : <LogbookSettings name={desk.open.name} />}
    </article>
  )
}

function LogbookSettings({ name }: { readonly name: string }) {
  const settings = useCall("settings.read", {})
  const save = useAct("settings.save")
  const { value } = settings
  if (value === null) return null
  const named = value.units.temperature === "f" ? "us" : "metric"
  return (
    <>
      <h2>{name}</h2>
      <Radios
        label="Units"
        options={["metric", "us"]}
        value={named}
        onChange={(units) => void save.run({ units: presets[units] })}
      />
      <HomeZone zone={value.home_zone} onSave={(home_zone) => void save.run({ home_zone })} />
      {save.problem === null ? null : <ProblemText problem={save.problem} />}
    </>
  )
}

function Radios<T extends string>({
  label,
  options,
  value,
  onChange,
}: {
  readonly label: string
  readonly options: readonly T[]
  readonly value: T
  readonly onChange: (value: T) => void
}) {
  return (
    <RadioGroup
      className="radios"
      orientation="horizontal"
      value={value}
      onChange={(chosen) => {
        const found = options.find((option) => option === chosen)
        if (found !== undefined) onChange(found)
      }}
    >
      <Label>{label}</Label>
      {options.map((option) => (
        <Radio key={option} value={option} className="radio">
          {option}
        </Radio>
      ))}
    </RadioGroup>
  )
}
