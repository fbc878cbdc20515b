import type { DeskState, Preferences } from "../../../shared/desk.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { HomeZone } from "./HomeZone.tsx"
import { Radios } from "../../parts/Radios.tsx"
import { Units } from "./Units.tsx"

const themes: readonly Preferences["theme"][] = ["system", "light", "dark"]
const sizes: readonly Preferences["text_size"][] = ["small", "normal", "large", "very large"]

/** What this computer's user likes, and what the open logbook keeps: its units and its home zone. */
export default function Settings({ desk }: { readonly desk: DeskState }) {
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
            say={(theme) => (theme === "system" ? "as the system" : theme)}
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
  return (
    <>
      <h2>{name}</h2>
      <Units units={value.units} onSave={(units) => void save.run({ units })} />
      <HomeZone
        key={value.home_zone}
        zone={value.home_zone}
        onSave={(home_zone) => void save.run({ home_zone })}
      />
      {save.problem === null ? null : <ProblemText problem={save.problem} />}
    </>
  )
}
