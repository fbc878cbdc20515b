import { expect, test } from "vitest"
import { unitsOf } from "../../../renderer/app/regionUnits.ts"
import { presets } from "../../../shared/readerUnits.ts"

// Common practice, no source: American anglers read feet and degrees Fahrenheit, most others metres and degrees Celsius.
test("units follow the region of the user's language", () => {
  expect(unitsOf("en-US")).toEqual(presets.us)
  expect(unitsOf("es-US")).toEqual(presets.us)
  expect(unitsOf("en-GB")).toEqual(presets.metric)
  expect(unitsOf("fr")).toEqual(presets.metric)
})
