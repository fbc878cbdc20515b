import { classInk } from "../../charts/classInk.ts"
import { useInk } from "../../charts/ink.ts"

/** The caution that stands beside every predicted tide. */
export const TideCaution = () => (
  <p className="small soft">Predicted tide, not for navigation; wind and rain move real water.</p>
)

/** What the marks of day strips mean, in words. */
export function StripLegend({
  classes,
  shown,
  untimed,
}: {
  readonly classes: readonly string[]
  /** The classes to name; null is a stint whose class was not noted. */
  readonly shown: readonly (string | null)[]
  /** Whether fish without a time of their own are marked apart. */
  readonly untimed: boolean
}) {
  const ink = useInk()
  return (
    <ul className="legend">
      {shown.map((name) => {
        const { colour, open } = classInk(name, classes, ink)
        return (
          <li key={name ?? ""}>
            <span
              className="swatch"
              aria-hidden="true"
              style={{ borderColor: colour, background: open ? "transparent" : colour }}
            />
            {name ?? "lure class not noted"}
          </li>
        )
      })}
      <li>
        <span aria-hidden="true" className="mark">
          ▼
        </span>
        fish landed
      </li>
      {untimed ? (
        <li>
          <span aria-hidden="true" className="mark">
            ▽
          </span>
          landed in that stint, time not noted
        </li>
      ) : null}
    </ul>
  )
}
