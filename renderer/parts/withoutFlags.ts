/** A sentence of the core without the words for the command line, which stand in parentheses: (--trip-is day). */
export const withoutFlags = (text: string): string => text.replaceAll(/ \(--[^()]*\)/g, "")
