import { expect, test } from "vitest"
import { sinceThen } from "../../../core/questions/sinceThen.ts"
import type { KeptAnswer, Lead } from "../../../shared/savedQuestions.ts"

const lead: Lead = { a: "spoon", b: "jig", basis: "adjusted", ratio: 1.4, low: 0.9, high: 2.1 }
const kept = (over: Partial<KeptAnswer>): KeptAnswer => ({
  id: "x",
  told_at: 0,
  method: "answers 1",
  trips: 20,
  rod_hours: 100,
  sentence: "",
  lead,
  ...over,
})
const say = (was: Partial<KeptAnswer>, now: Partial<KeptAnswer>): string =>
  sinceThen(kept(was), kept(now), () => "May 4")

test.each<[string, Partial<KeptAnswer>, Partial<KeptAnswer>, string]>([
  [
    "more trips",
    {},
    { trips: 23, rod_hours: 112.5, lead: { ...lead, ratio: 1.2, low: 0.9, high: 1.6 } },
    "Since May 4, 3 trips and 13 rod-hours more: spoon over jig was 1.4 (0.90 to 2.1), now 1.2 (0.90 to 1.6).",
  ],
  [
    "levels change places as the other is fished more",
    { lead: { ...lead, a: "jig", b: "spoon", ratio: 0.5, low: 0.25, high: null } },
    { trips: 21, rod_hours: 101 },
    "Since May 4, 1 trip and 1.0 rod-hours more: spoon over jig was 2.0 (0 to 4.0), now 1.4 (0.90 to 2.1).",
  ],
  [
    "another basis leads, by another method",
    { lead: { ...lead, basis: "raw" } },
    { method: "answers 2" },
    "Since May 4, on as many trips: spoon over jig was 1.4 (0.90 to 2.1), now 1.4 (0.90 to 2.1), on another basis (adjusted instead of raw). The method changed meanwhile, and the two may differ for that reason alone.",
  ],
  [
    "other levels",
    { lead: { ...lead, a: "cork" } },
    { trips: 19 },
    "Since May 4, 1 trip fewer: it was about cork over jig, 1.4 (0.90 to 2.1); now spoon over jig, 1.4 (0.90 to 2.1).",
  ],
  [
    "nothing then",
    { lead: null },
    {},
    "Since May 4, on as many trips: spoon over jig could not be told then, now 1.4 (0.90 to 2.1).",
  ],
  ["nothing now", {}, { lead: null }, "Since May 4, on as many trips: nothing can be compared now."],
])("since then: %s", (_, was, now, sentence) => {
  expect(say(was, now)).toBe(sentence)
})
