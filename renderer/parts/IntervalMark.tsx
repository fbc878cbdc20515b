/** An estimate and its interval on a scale from 0 to `to`, as small as a word; the numbers stand beside it. */
export function IntervalMark({
  estimate,
  low,
  high,
  to,
  open,
}: {
  readonly estimate: number
  readonly low: number
  /** Null has no upper limit. */
  readonly high: number | null
  readonly to: number
  /** Whether it stands on little. */
  readonly open: boolean
}) {
  const x = (value: number) => 4 + (92 * Math.min(value, to)) / to
  return (
    <svg className="interval-mark" viewBox="0 0 100 12" aria-hidden="true">
      <line className="zero" x1="4" x2="4" y1="0" y2="12" />
      <line className="stretch" x1={x(low)} x2={high === null || high > to ? 100 : x(high)} y1="6" y2="6" />
      <circle className={open ? "open" : "full"} cx={x(estimate)} cy="6" r="3.2" />
    </svg>
  )
}
