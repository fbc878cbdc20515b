// Cases in cases/stats, computed with R 4.2.2 from formulas written out; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { jackknifedVariance, mostMoving } from "../../core/stats/inference/clusterDeletion.ts"
import type { Rows } from "../../core/stats/likelihood/rows.ts"
import { column, fromColumns, selectRows } from "../../core/stats/matrix/matrix.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { clusteredRowsOf, modelInputs } from "./modelCase.ts"

const byName = z.record(z.string(), number)

test("refitting without each cluster agrees with R, and names the one that moves each coefficient most", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/16-leave-one-cluster-out.json",
    modelInputs,
    z.object({
      full: byName,
      without: z.record(z.string(), numbers),
      most_influential: z.record(z.string(), z.string()),
      largest_change: byName,
      jackknife_se: byName,
    }),
  )
  const rows = clusteredRowsOf(inputs)
  const plain = (which: Rows, start?: Float64Array) => {
    const fit = fitGlm(which, "poisson", start)
    if (fit.kind !== "fit") throw new Error("The model was not fitted.")
    return fit
  }
  const full = plain(rows)
  const changes = fromColumns(
    inputs.columns.map((_, j) =>
      Float64Array.from(rows.names, (name) => {
        const left = Int32Array.from(
          Array.from(rows.cluster.keys()).filter((i) => rows.names[rows.cluster[i] ?? 0] !== name),
        )
        const again = plain(
          {
            x: selectRows(rows.x, left),
            y: Float64Array.from(left, (i) => rows.y[i] ?? NaN),
            offset: Float64Array.from(left, (i) => rows.offset?.[i] ?? NaN),
          },
          full.coefficients,
        )
        return (again.coefficients[j] ?? NaN) - (full.coefficients[j] ?? NaN)
      }),
    ),
    rows.clusters,
  )
  const found = new Differences(tolerance)
  inputs.columns.forEach(({ name }, j) => {
    found.add(name, full.coefficients[j], expected.full[name])
    rows.names.forEach((cluster, g) =>
      found.add(
        `${name} without ${cluster}`,
        (full.coefficients[j] ?? NaN) + (column(changes, j)[g] ?? NaN),
        expected.without[cluster]?.[j],
      ),
    )
    const contrast = Float64Array.from(inputs.columns, (_, k) => (k === j ? 1 : 0))
    const worst = mostMoving(contrast, changes)
    expect(rows.names[worst?.cluster ?? -1]).toBe(expected.most_influential[name])
    found.add(`largest change of ${name}`, worst?.change, expected.largest_change[name])
    // R's jackknife is about the mean of the refits, ours about the whole fit: their squares differ by G (mean change)^2
    const mean = column(changes, j).reduce((sum, change) => sum + change, 0) / rows.clusters
    const about = jackknifedVariance(contrast, changes, rows.clusters) - (rows.clusters - 1) * mean ** 2
    found.add(`jackknife se of ${name}`, Math.sqrt(about), expected.jackknife_se[name])
  })
  expect(found.sentences).toEqual([])
})
