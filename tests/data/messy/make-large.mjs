// Writes a 100,000-row trip file for import and load tests; nothing is stored in the repository.
//   node tests/data/messy/make-large.mjs OUT.csv [rows]
// Rows are drawn from a fixed integer sequence, so the totals printed at the end never change.
import { createWriteStream } from 'node:fs'
import { once } from 'node:events'

const [path, count = '100000'] = process.argv.slice(2)
if (!path) throw new Error('usage: node make-large.mjs OUT.csv [rows]')

let state = 20140506
// linear congruential sequence modulo 2^32 (multiplier and increment as in many C libraries), upper bits only
/** @param {number} n */
const below = (n) => {
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0
  return Math.floor((state / 4294967296) * n)
}
const lures = ['soft plastic', 'popping cork', 'twitch bait', 'topwater', 'spoon']
const skies = ['clear', 'partly cloudy', 'overcast']
/** @param {number} n */
const two = (n) => String(n).padStart(2, '0')
const file = createWriteStream(path)
const totals = { rows: 0, rodQuarterHours: 0, landed: 0, blankTrips: 0 }

file.write('date,end,hours,rods,lure class,landed,cloud,note\n')
for (let i = 0; i < Number(count); i++) {
  const date = `${2005 + below(20)}-${two(1 + below(12))}-${two(1 + below(28))}`
  const quarters = 1 + below(32)
  const rods = 1 + below(4)
  const landed = below(10) < 4 ? 0 : below(9)
  const note = below(50) === 0 ? `"row ${i + 1}, kept ""as is"""` : ''
  const line = [date, `${two(6 + below(15))}:${two(below(60))}`, quarters / 4, rods, lures[below(5)], landed, skies[below(3)], note]
  if (!file.write(line.join(',') + '\n')) await once(file, 'drain')
  totals.rows++
  totals.rodQuarterHours += quarters * rods
  totals.landed += landed
  if (landed === 0) totals.blankTrips++
}
file.end()
await once(file, 'finish')
console.log(JSON.stringify({ rows: totals.rows, rod_hours: totals.rodQuarterHours / 4, landed: totals.landed, blank_trips: totals.blankTrips }))
