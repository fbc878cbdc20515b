import { expect, test } from "vitest"
import { answerPage } from "../../../renderer/screens/produces/answerPage.ts"
import { compared } from "../questions/compared.ts"
import { overTrips } from "../questions/factsOf.ts"

test("an answer's page says what the answer says, with its day, and takes no name for a tag", () => {
  const stints = ["<b>jig</b>", "cork & float"].flatMap((lure_class, lure) =>
    overTrips("trip", 12, (i) => ({ fish: (i + lure) % 3, factors: { lure_class } })),
  )
  const answer = compared(stints, { outcome: "landed_rate", by: "lure_class" })
  const page = answerPage(
    answer,
    { head: ["", "rate"], rows: [["<b>jig</b>", "1.0"]] },
    "<svg></svg>",
    "28 November 2026",
  )
  expect(page).toContain("28 November 2026")
  expect(page).toContain("<svg></svg>")
  expect(page).toContain("&lt;b&gt;jig&lt;/b&gt;")
  expect(page).toContain("cork &amp; float")
  expect(page).not.toContain("<b>")
  expect(page).not.toMatch(/<script|http/)
  expect(page.match(/<p>/g)?.length).toBeGreaterThanOrEqual(answer.cautions.length + answer.standings.length)
})
