import { useMemo } from "react"
import { useCall } from "../../client/useCall.ts"

/** The logbook's lure classes, sorted, so that each has one colour wherever it is drawn; null until they are known. */
export function useClasses(): readonly string[] | null {
  const { value } = useCall("questions.choices", {})
  return useMemo(() => {
    if (value === null) return null
    const classes = value.levels.find(({ factor }) => factor === "lure_class")
    return classes?.levels.toSorted() ?? []
  }, [value])
}
