/** What a spreadsheet takes for the beginning of a formula; the wide forms are those of East Asian keyboards. */
const opensFormula = "=+\\-@\\t\\r＝＋－＠"
const wouldRun = new RegExp(`^[${opensFormula}]`)
const guarded = new RegExp(`^'(?=['${opensFormula}])`)

/**
 * The text of a cell as our own tables write it: a text that a spreadsheet would run gets an apostrophe in front, and so
 * does one that would lose its own apostrophe in reading. `readFormulaText` is its exact inverse for every text.
 */
export const writeFormulaText = (text: string): string =>
  wouldRun.test(text) || guarded.test(text) ? `'${text}` : text

/** The text that a cell stands for: one apostrophe is taken off where it guards against a formula. */
export const readFormulaText = (cell: string): string => (guarded.test(cell) ? cell.slice(1) : cell)
