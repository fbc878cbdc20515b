import type { Coded, CodeKind } from "../../../shared/codes.ts"
import type { GridChoice } from "../../parts/grid/types.ts"

const folded = (text: string): string => text.normalize("NFD").replaceAll(/\p{M}/gu, "").toLowerCase()

/** What a word may stand for: a code it begins, else a name with a word that it begins. Nothing where it is more than a word. */
export function codesFor(typed: string, kind: CodeKind, all: readonly Coded[]): GridChoice[] {
  const word = folded(typed.trim())
  if (!/^[\p{L}\d][\p{L}\d ]*$/u.test(word)) return []
  const coded = all.filter((one) => one.kind === kind && !one.retired)
  const choice = ({ code, name }: Coded): GridChoice => ({ text: code ?? `[${name}]`, said: name })
  const byCode = coded.filter(({ code }) => code !== null && folded(code).startsWith(word))
  const byName = coded.filter(
    (one) =>
      !byCode.includes(one) &&
      (folded(one.name).startsWith(word) ||
        folded(one.name)
          .split(/\W+/)
          .some((part) => part.startsWith(word))),
  )
  return [...byCode, ...byName].map(choice)
}
