import { withoutFlags } from "./withoutFlags.ts"

/** What is wrong with something just typed, told at its place; nothing where nothing is. */
export const Wrong = ({ sentence }: { readonly sentence: string | null }) =>
  sentence === null ? null : (
    <p className="wrong" role="alert">
      {withoutFlags(sentence)}
    </p>
  )
