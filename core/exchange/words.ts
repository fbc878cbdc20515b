import type { FreeList } from "../store/read/names.ts"

/**
 * The user's own lists while a table is read: a word already in use keeps its spelling, whatever the case in the table;
 * a new one is listed as new and keeps the spelling in which it was first met.
 */
export class WordLists {
  readonly #inUse: (list: FreeList) => readonly string[]
  readonly #spelling = new Map<FreeList, Map<string, string>>()
  readonly #added = new Map<FreeList, string[]>()

  constructor(inUse: (list: FreeList) => readonly string[]) {
    this.#inUse = inUse
  }

  canonical(list: FreeList, word: string): string {
    let known = this.#spelling.get(list)
    if (known === undefined) {
      known = new Map(this.#inUse(list).map((used) => [used.toLowerCase(), used]))
      this.#spelling.set(list, known)
    }
    const spelling = known.get(word.toLowerCase())
    if (spelling !== undefined) return spelling
    known.set(word.toLowerCase(), word)
    this.#added.set(list, [...(this.#added.get(list) ?? []), word])
    return word
  }

  /** The words that were not in use before. */
  added(): { factor: FreeList; levels: string[] }[] {
    return [...this.#added].map(([factor, levels]) => ({ factor, levels }))
  }
}
