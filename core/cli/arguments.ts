import { parseArgs, type ParseArgsConfig } from "node:util"
import { UsageError } from "./usage.ts"

type Options = NonNullable<ParseArgsConfig["options"]>
export type Values = Record<string, string | boolean | (string | boolean)[] | undefined>

/** `--lon -81.3` as `--lon=-81.3`: a number may be negative, and no option starts with a digit. */
const withNegatives = (args: readonly string[]): string[] =>
  args.flatMap((arg, i) => {
    const next = args[i + 1]
    if (/^--\w[\w-]*$/.test(arg) && next !== undefined && /^-[\d.]/.test(next)) return [`${arg}=${next}`]
    return /^-[\d.]/.test(arg) && /^--\w[\w-]*$/.test(args[i - 1] ?? "") ? [] : [arg]
  })

/** The options of a command that has no other arguments. */
export function parseOptions(args: readonly string[], options: Options): Values {
  return attempt(
    () =>
      parseArgs({
        args: withNegatives(args),
        options: { ...options, json: { type: "boolean" } },
        allowPositionals: false,
      }).values,
  )
}

/** Splits a command's arguments into its words and its options. */
export function parseWords(
  args: readonly string[],
  options: Options,
): { words: readonly string[]; values: Values } {
  const { values, positionals } = attempt(() =>
    parseArgs({
      args: withNegatives(args),
      options: { ...options, json: { type: "boolean" } },
      allowPositionals: true,
    }),
  )
  return { words: positionals, values }
}

/** Splits a command's arguments into its logbook file, what follows it, and its options. `[NAME]` may be left out. */
export function parse(
  args: readonly string[],
  wanted: readonly string[],
  options: Options,
): { file: string; rest: string[]; values: Values } {
  const { values, words } = parseWords(args, options)
  const most = wanted.at(-1)?.endsWith("...") === true ? Infinity : wanted.length
  const [file, ...rest] = words
  const enough = words.length >= wanted.filter((name) => !name.startsWith("[")).length && words.length <= most
  if (file === undefined || !enough)
    throw new UsageError(`This command wants ${wanted.join(" ")}; "help" shows how.`)
  return { file, rest, values }
}

function attempt<T>(act: () => T): T {
  try {
    return act()
  } catch (error) {
    throw new UsageError(sayMisuse(error instanceof Error ? error : new Error(String(error))))
  }
}

/** Node's complaints about arguments in our words; it names the argument in quotes. */
function sayMisuse(error: Error): string {
  const [, named = ""] = /'(.+?)'/.exec(error.message) ?? []
  const code = "code" in error ? error.code : null
  if (code === "ERR_PARSE_ARGS_UNKNOWN_OPTION") return `There is no option ${named} here; "help" lists them.`
  if (code === "ERR_PARSE_ARGS_UNEXPECTED_POSITIONAL")
    return `"${named}" is not expected here: this command takes options only; "help" lists them.`
  if (error.message.endsWith("argument missing")) return `${named.split(" ")[0] ?? ""} wants a value.`
  return error.message
}

export const texts = (value: Values[string]): string[] =>
  Array.isArray(value) ? value.filter((one) => typeof one === "string") : []

export const sentences = (issues: readonly { path: PropertyKey[]; message: string }[]): string =>
  issues.map(({ path, message }) => (path.length > 0 ? `--${path.join(".")}: ${message}` : message)).join(" ")
