import { useState } from "react"
import { Button } from "react-aria-components"
import type { Answer } from "../../../shared/answer.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { useCommand } from "../../app/actions.tsx"
import { answerPage } from "./answerPage.ts"
import { printInk } from "../../charts/ink.ts"
import { rateIntervals } from "../../charts/rateIntervals.ts"
import { csvText, saveAs } from "../../parts/saveAs.ts"

const savedWidth = 800

/** Copy, save and print. What is saved is drawn on paper, whatever the theme. */
export function TakeAway({
  answer,
  table,
  units,
}: {
  readonly answer: Answer
  readonly table: { readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] }
  readonly units: ReaderUnits
}) {
  const [done, setDone] = useState("")
  const name = `${answer.outcome} by ${answer.by}`
  const say = (what: string) => () => setDone(what)
  const view = async () => {
    const { viewOf } = await import("../../charts/view.ts")
    return viewOf(rateIntervals(answer, units, printInk(16), savedWidth))
  }
  const acts = {
    copy: () =>
      navigator.clipboard
        .writeText([answer.sentence, ...answer.cautions.map(({ text }) => `! ${text}`)].join("\n"))
        .then(say("Copied.")),
    csv: () => saveAs(`${name}.csv`, "text/csv", csvText(table.head, table.rows)).then(say("Saved as CSV.")),
    svg: async () => {
      await saveAs(`${name}.svg`, "image/svg+xml", await (await view()).toSVG())
      setDone("Saved as SVG.")
    },
    png: async () => {
      const canvas = await (await view()).toCanvas(2)
      const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve))
      if (blob !== null) await saveAs(`${name}.png`, "image/png", blob)
      setDone("Saved as PNG.")
    },
  }
  const page = async () => {
    const day = new Intl.DateTimeFormat("en", { dateStyle: "long" }).format(new Date())
    await saveAs(`${name}.html`, "text/html", answerPage(answer, table, await (await view()).toSVG(), day))
    setDone("Saved as a page.")
  }
  useCommand("answer.page", () => void page())
  useCommand("answer.copy", () => void acts.copy())
  useCommand("answer.csv", () => void acts.csv())
  useCommand("answer.svg", () => void acts.svg())
  useCommand("answer.png", () => void acts.png())
  return (
    <div className="unprinted">
      <h3>Take it along</h3>
      <p className="row">
        <Button onPress={() => void acts.copy()}>Copy</Button>
        <Button onPress={() => void acts.csv()}>CSV</Button>
        <Button onPress={() => void acts.svg()}>SVG</Button>
        <Button onPress={() => void acts.png()}>PNG</Button>
        <Button onPress={() => void page()}>Page</Button>
        <Button onPress={() => window.print()}>Print</Button>
      </p>
      <p role="status" className="soft">
        {done}
      </p>
    </div>
  )
}
