/** A text as a sentence begins: with a capital. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** A sentence's beginning as it stands within another: without its capital. */
export const uncapital = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1)
