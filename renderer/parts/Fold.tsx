import { useState, type ReactNode } from "react"
import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"

/**
 * A part of the page folded under its heading. What is in it is made when it is first unfolded, and then kept, so that
 * nothing half typed is lost by folding it again.
 */
export function Fold({
  title,
  level = 3,
  look = "fold",
  small = false,
  unprinted = false,
  unfolded = false,
  children,
}: {
  readonly title: ReactNode
  readonly level?: 2 | 3 | 4
  /** A fold of its own, or one row of a list that unfolds. */
  readonly look?: "fold" | "piece"
  /** The heading as small as the others of a margin. */
  readonly small?: boolean
  readonly unprinted?: boolean
  /** Whether it starts unfolded. */
  readonly unfolded?: boolean
  readonly children: ReactNode
}) {
  const [made, setMade] = useState(unfolded)
  return (
    <Disclosure
      className={unprinted ? `${look} unprinted` : look}
      defaultExpanded={unfolded}
      onExpandedChange={() => setMade(true)}
    >
      <Heading level={level} {...(small ? { className: "small-heading" } : {})}>
        <Button slot="trigger">{title}</Button>
      </Heading>
      <DisclosurePanel>{made ? children : null}</DisclosurePanel>
    </Disclosure>
  )
}
