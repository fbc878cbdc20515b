import { Label, Radio, RadioGroup } from "react-aria-components"

/** One of a few words to choose, all in sight. */
export function Radios<T extends string>({
  label,
  options,
  say = (option) => option,
  value,
  onChange,
}: {
  readonly label: string
  readonly options: readonly T[]
  readonly say?: (option: T) => string
  readonly value: T
  readonly onChange: (value: T) => void
}) {
  return (
    <RadioGroup
      className="setting"
      orientation="horizontal"
      value={value}
      onChange={(chosen) => {
        const found = options.find((option) => option === chosen)
        if (found !== undefined) onChange(found)
      }}
    >
      <Label>{label}</Label>
      <div className="options">
        {options.map((option) => (
          <Radio key={option} value={option} className="radio">
            {say(option)}
          </Radio>
        ))}
      </div>
    </RadioGroup>
  )
}
