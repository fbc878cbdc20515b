// strikes.csv: section 2 of the plain tables.
import { expect, test } from "vitest"
import { readFiles, refusalsOf, near } from "./reading.ts"

const stints = [
  "stint,start,end,zone,landed,species",
  "a,2026-05-15 22:00,2026-05-16 01:00,America/New_York,1,drum",
  "a,2026-05-15 22:00,2026-05-16 01:00,America/New_York,2,trout",
  "b,2026-05-16 08:00,2026-05-16 09:00,America/New_York,0,",
  "b,2026-05-17 08:00,2026-05-17 09:00,America/New_York,0,",
  "c,2026-05-18 09:00,2026-05-18 08:00,America/New_York,0,",
].join("\n")
const readStrikes = (...lines: string[]) => readFiles({ "hits.csv": lines.join("\n"), "stints.csv": stints })

test("strikes are read with their units, words and times, whichever file comes first", async () => {
  const read = await readStrikes(
    "stint,fate,species,length_in,weight_lb,kept,at,took_on",
    'a,Landed,drum,22 1/2,"2 lb 4 oz",yes,23:30,Fall',
    "a,bitten-off,,,,,00:20,",
    "a,struck,,40 cm,,released,2026-05-15T21:00-04:00,pause",
  )
  expect(read.refusals.filter(({ file }) => file === "hits.csv")).toEqual([])
  const common = { file: "hits.csv", stint: "a" }
  expect(read.strikes).toEqual([
    {
      ...common,
      line: 2,
      fate: "landed",
      species: "drum",
      length_mm: near(571.5),
      weight_g: near(2.25 * 453.59237),
      kept: 1,
      at: Date.UTC(2026, 4, 16, 3, 30),
      took_on: "fall",
    },
    {
      ...common,
      line: 3,
      fate: "bitten off",
      species: null,
      length_mm: null,
      weight_g: null,
      kept: null,
      at: Date.UTC(2026, 4, 16, 4, 20),
      took_on: null,
    },
    {
      ...common,
      line: 4,
      fate: "struck",
      species: null,
      length_mm: 400,
      weight_g: null,
      kept: 0,
      at: Date.UTC(2026, 4, 16, 1),
      took_on: "pause",
    },
  ])
})

test.each([
  ["z,landed,,", "2 stint: no row of the stints table is named z, or that row was refused"],
  ["c,landed,,", "2 stint: no row of the stints table is named c, or that row was refused"],
  ["b,landed,,", "2 stint: more than one stint is named b"],
  [",landed,,", "2 stint: stint is missing"],
  ["a,,,", "2 fate: fate is missing"],
  ["a,eaten,,", '2 fate: "eaten" is none of missed, lost, bitten off, landed, struck, hooked, not landed'],
  ["a,landed,20,", "2 length: no unit in the cell or the header and none chosen"],
  ["a,landed,0 mm,", "2 length: 0 mm is too small: it must be more than 0 mm"],
  ["a,landed,,maybe", '2 kept: "maybe" is neither yes nor no'],
])("%s is refused with its reason", async (cells, sentence) => {
  const read = await readStrikes("stint,fate,length,kept", cells)
  expect(read.strikes).toEqual([])
  expect(refusalsOf({ ...read, refusals: read.refusals.filter(({ file }) => file === "hits.csv") })).toEqual([
    sentence,
  ])
})

test("without a stint column, rows are named by their number", async () => {
  const read = await readFiles({
    "stints.csv": "date,hours\n2026-05-15,3\n2026-05-16,2\n",
    "strikes.csv": "stint,fate\n2,missed\n",
  })
  expect(read.strikes?.map(({ stint, fate }) => [stint, fate])).toEqual([["2", "missed"]])
  expect(read.records).toBe(3)
})

test("a strikes table may be empty; without one there are none to speak of", async () => {
  const tables = { "stints.csv": "date,hours\n2026-05-15,3\n" }
  expect((await readFiles({ ...tables, "strikes.csv": "stint,fate\n" })).strikes).toEqual([])
  expect((await readFiles(tables)).strikes).toBeNull()
})
