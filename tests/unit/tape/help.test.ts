import { expect, test } from "vitest"
import { tellTape } from "../../../core/tape/tape.ts"
import { exampleCodes, tapeExamples } from "../../../shared/tapeHelp.ts"
import { sampleNames, tapeContext } from "./tapeContext.ts"

test.each(tapeExamples.map((example) => [example.title, example] as const))(
  "the help's example of %s says what the tape says",
  (_, { lines }) => {
    const told = tellTape(lines.map(({ typed }) => typed).join("\n"), tapeContext()).lines
    expect(told.map(({ text, said, unclear }) => ({ typed: text, said, unclear }))).toEqual(
      lines.map((line) => ({ ...line, unclear: null })),
    )
  },
)

test("the help names the codes that its examples use", () => {
  for (const { code, name } of exampleCodes)
    expect(name.startsWith(sampleNames.find(code)?.name ?? "nothing")).toBe(true)
})
