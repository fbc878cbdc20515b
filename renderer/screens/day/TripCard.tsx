import { useState } from "react"
import { Button } from "react-aria-components"
import type { TripCard as Card } from "../../../shared/tripCard.ts"
import { useActions } from "../../app/actions.tsx"
import { dayLong } from "../../charts/clock.ts"
import { useCall } from "../../client/useCall.ts"
import { Choice } from "../../parts/Choice.tsx"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { Problems } from "../../parts/ProblemText.tsx"

const options = (from: number, to: number) => [
  {
    title: "",
    options: Array.from({ length: to - from + 1 }, (_, i) => ({
      id: String(from + i),
      label: String(from + i),
    })),
  },
]

/** A card for the boat, on one side of one sheet: ten-minute rows to mark, in the order in which the tape reads them. */
export function TripCard({ trip }: { readonly trip: string }) {
  const [rods, setRods] = useState(2)
  const [hours, setHours] = useState(8)
  const card = useCall("trips.card", { trip, rods, hours })
  const { run } = useActions()
  return (
    <>
      <p className="question unprinted">
        A card for{" "}
        <Choice
          label="Rods"
          sections={options(1, 6)}
          value={String(rods)}
          onChange={(id) => setRods(Number(id))}
        />{" "}
        rods and{" "}
        <Choice
          label="Hours"
          sections={options(1, 14)}
          value={String(hours)}
          onChange={(id) => setHours(Number(id))}
        />{" "}
        hours, on one page.{" "}
        <Button onPress={() => run("answer.print")}>
          Print it <CommandKey id="answer.print" />
        </Button>
      </p>
      <Problems of={[card.problem]} />
      {card.value === null ? null : <CardPage card={card.value} />}
    </>
  )
}

/** From so many rows a column on, they stand closer, so that all fit on one page. */
const closeFrom = 30

function CardPage({ card }: { readonly card: Card }) {
  const half = Math.ceil(card.rows.length / 2)
  const columns = card.rows.length > 30 ? [card.rows.slice(0, half), card.rows.slice(half)] : [card.rows]
  return (
    <article className={half > closeFrom && columns.length > 1 ? "trip-card close" : "trip-card"}>
      <header>
        <h1>{dayLong(card.date)}</h1>
        <p>
          {card.spot === null ? "" : `${card.spot}. `}
          {card.light.map(({ word, at }) => `${word} ${at}`).join(", ")}
        </p>
        <p>
          {card.tide === null
            ? "No tide is told here."
            : `${card.tide.waters.map(({ kind, at, height }) => `${kind} ${at} ${height}`).join(", ")} (${card.tide.station}, predicted)`}
        </p>
      </header>
      <div className="card-columns">
        {columns.map((rows, i) => (
          <table key={i}>
            <thead>
              <tr>
                <th scope="col">time</th>
                <th scope="col">spot</th>
                {card.rods.map((rod, n) => (
                  <th key={n} scope="col">
                    {rod}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row} className={row.endsWith(":00") ? "hour" : ""}>
                  <th scope="row">{row}</th>
                  <td />
                  {card.rods.map((_, n) => (
                    <td key={n} />
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        ))}
      </div>
      <footer>
        <p>
          {card.letters.map(({ letter, said }) => `${letter} ${said}`).join(", ")}; fish by code and length.
        </p>
        <p>
          {[...card.presentations, ...card.spots, ...card.species]
            .map(({ code, mark, name }) => `${code}${mark === null ? "" : ` (${mark})`} ${name}`)
            .join("; ")}
        </p>
        <p className="card-caution">{card.cautions}</p>
      </footer>
    </article>
  )
}
