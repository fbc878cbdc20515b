import { Button } from "react-aria-components"
import type { PresentationLine } from "../../../shared/tackle.ts"

/** A line as it is read: in words where it is clear, with what it may be where it is not. */
export function LineReading({
  reading: { tokens, words },
  onChoose,
}: {
  readonly reading: PresentationLine
  /** Puts a choice in the place of a stretch of the line. */
  readonly onChoose: (from: number, to: number, choice: string) => void
}) {
  const unclear = tokens.find((token) => token.unclear !== null)
  return (
    <>
      <p className="reading">{words === "" ? "Nothing read yet." : words}</p>
      {unclear?.unclear ? (
        <p className="wrong">
          {unclear.unclear.sentence}{" "}
          {unclear.unclear.choices.map((choice) => (
            <Button
              key={choice}
              className="choice-of"
              onPress={() => onChoose(unclear.from, unclear.to, choice)}
            >
              {choice}
            </Button>
          ))}
        </p>
      ) : null}
    </>
  )
}
