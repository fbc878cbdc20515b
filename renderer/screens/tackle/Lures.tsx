import { counted } from "../../../shared/figures.ts"
import type { Tackle } from "../../../shared/tackle.ts"
import { useSave } from "../../client/useSave.ts"
import { KeptField } from "../../parts/KeptField.tsx"

const money = new Intl.NumberFormat(undefined, { minimumFractionDigits: 2, maximumFractionDigits: 2 })

/** The lures, how many were lost this season, and what they cost where a price is known. */
export function Lures({ tackle: { lures, season } }: { readonly tackle: Tackle }) {
  const save = useSave("tackle.save")
  const lost = lures.reduce((sum, lure) => sum + (lure.lost ?? 0), 0)
  const priced = lures.filter(({ lost: gone, price }) => (gone ?? 0) > 0 && price !== null)
  const cost = priced.reduce((sum, { lost: gone, price }) => sum + (gone ?? 0) * (price ?? 0), 0)
  const withoutPrice = lures.filter(({ lost: gone, price }) => (gone ?? 0) > 0 && price === null).length
  return (
    <section className="lures">
      <h2>Lures lost, and what they cost</h2>
      <p>
        {lost === 0
          ? `No lost lure is noted in ${season}.`
          : `${counted(lost, "lure")} lost in ${season}${priced.length === 0 ? "" : `, ${money.format(cost)} in all`}.`}
        {withoutPrice === 0 ? "" : ` ${counted(withoutPrice, "lost lure")} without a price.`}
      </p>
      <div className="wide" role="region" aria-label="Lures" tabIndex={0}>
        <table className="lure-rows">
          <thead>
            <tr>
              <th scope="col" className="words">
                Lure
              </th>
              <th scope="col" className="wider">
                presentations
              </th>
              <th scope="col">lost in {season}</th>
              <th scope="col">price</th>
              <th scope="col">cost of the lost</th>
            </tr>
          </thead>
          <tbody>
            {lures.map((lure) => (
              <tr key={lure.id}>
                <th scope="row" className="name">
                  {lure.name ?? nameless(lure.words)}
                  {lure.name === null ? null : <span className="soft small under">{lure.words}</span>}
                </th>
                <td className="wider">{lure.presentations}</td>
                <td>{lure.lost ?? "–"}</td>
                <td>
                  <KeptField
                    label={`Price of ${lure.name ?? nameless(lure.words)}`}
                    hidden
                    className="price"
                    value={lure.price === null ? "" : money.format(lure.price)}
                    onKeep={(typed) => {
                      const price = typed.trim() === "" ? null : Number(typed.replace(",", "."))
                      return price !== null && !(price >= 0)
                        ? Promise.resolve(`${typed} is not a price.`)
                        : save({ what: "lure", id: lure.id, price })
                    }}
                  />
                </td>
                <td>
                  {lure.price === null || lure.lost === null ? "" : money.format(lure.lost * lure.price)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}

const nameless = (words: string): string => (words === "" ? "not described" : words)
