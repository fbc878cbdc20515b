// npm test: sets up what is missing, runs every check, and ends with `N passed, N failed[, N skipped]`.
import { spawnSync } from "node:child_process"
import { mkdtempSync, readFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { buildPage, install, modernNode, root } from "../electron/setup.mjs"
import { provideBrowser } from "./provideBrowser.mjs"

install()
provideBrowser()
buildPage()
const node = modernNode()
const totals = { passed: 0, failed: 0, skipped: 0 }

/**
 * Runs an installed tool with the modern Node.
 * @param {string} script its file below node_modules
 * @param {readonly string[]} args
 */
function tool(script, args) {
  return spawnSync(node, [join(root, "node_modules", script), ...args], { cwd: root, stdio: "inherit" })
    .status
}

/**
 * @param {string} name
 * @param {string} script
 * @param {readonly string[]} args
 */
function check(name, script, args) {
  console.log(`\n== ${name}`)
  const passed = tool(script, args) === 0
  console.log(passed ? `${name}: passed` : `${name}: FAILED`)
  totals[passed ? "passed" : "failed"] += 1
}

check("types", "typescript/bin/tsc", ["--noEmit", "-p", "."])
check("lint", "oxlint/bin/oxlint", ["--type-aware", "--deny-warnings"])
check("format", "oxfmt/bin/oxfmt", ["--check"])
check("dead code", "knip/bin/knip.js", ["--no-progress"])

console.log("\n== tests")
/**
 * Runs tests, and reads what became of them.
 * @typedef {{ name: string, assertionResults: { status: string, fullName: string }[] }} TestFile
 * @param {readonly string[]} args
 * @returns {{ status: number | null, results: { numPassedTests: number, numFailedTests: number, testResults: TestFile[] } }}
 */
function runTests(args) {
  const report = join(mkdtempSync(join(tmpdir(), "stintbook-test-")), "report.json")
  const status = tool("vitest/vitest.mjs", [
    "run",
    "--config=tests/vitest.config.ts",
    "--passWithNoTests",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
    ...args,
  ])
  return { status, results: JSON.parse(readFileSync(report, "utf8")) }
}

/** Stopping a thread that has native code loaded now and then brings a test's whole process down: its file is run again. */
const mostAgain = 3
const given = process.argv.slice(2)
// A browser and a host want the machine to themselves; of the others two files run at a time.
const inBrowser = runTests(["--project=e2e", ...given])
const others = runTests(["--project=!e2e", "--maxWorkers=2", ...given])
let status = inBrowser.status === 0 ? others.status : inBrowser.status
let results = {
  numPassedTests: inBrowser.results.numPassedTests + others.results.numPassedTests,
  numFailedTests: inBrowser.results.numFailedTests + others.results.numFailedTests,
  testResults: [...inBrowser.results.testResults, ...others.results.testResults],
}
for (let again = 1; again <= mostAgain && status !== 0 && results.numFailedTests === 0; again++) {
  const cut = results.testResults.filter(
    (file) =>
      file.assertionResults.some(({ status }) => status === "pending" || status === "skipped") &&
      file.name.includes("/tests/unit/"),
  )
  if (cut.length === 0) break
  console.log(
    `A test process was brought down; run again, ${again} of ${mostAgain}: ${cut.map(({ name }) => name).join(", ")}`,
  )
  const next = runTests(cut.map(({ name }) => name))
  status = next.status
  const passed = cut.reduce(
    (sum, file) => sum + file.assertionResults.filter((one) => one.status === "passed").length,
    0,
  )
  results = {
    numPassedTests: results.numPassedTests - passed + next.results.numPassedTests,
    numFailedTests: next.results.numFailedTests,
    testResults: [...results.testResults.filter((file) => !cut.includes(file)), ...next.results.testResults],
  }
}
totals.passed += results.numPassedTests
totals.failed += results.numFailedTests
for (const file of results.testResults)
  for (const test of file.assertionResults)
    if (test.status === "skipped" || test.status === "pending" || test.status === "todo") {
      totals.skipped += 1
      console.log(`skipped: ${test.fullName}`)
    }
if (status !== 0 && results.numFailedTests === 0) {
  console.log("The test runner itself failed.")
  totals.failed += 1
}
const skipped = totals.skipped > 0 ? `, ${totals.skipped} skipped` : ""
console.log(`${totals.passed} passed, ${totals.failed} failed${skipped}`)
process.exitCode = totals.failed > 0 ? 1 : 0
