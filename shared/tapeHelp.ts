/**
 * The help of the tape as data: what each line of an example says, shown on the help page, and held by a test to what the
 * tape's reader really says of it, so that it cannot go stale.
 */
export type TapeExample = {
  readonly title: string
  /** What it shows, in a sentence or two. */
  readonly text: string
  /** Lines as typed, each with its reading; all lines of one example are read together. */
  readonly lines: readonly { readonly typed: string; readonly said: string }[]
}

/** The names that the examples use, by kind: of the sample logbook. */
export const exampleCodes: readonly { readonly code: string; readonly name: string }[] = [
  { code: "md", name: "Mill Drain, a spot" },
  { code: "sb", name: "Shell Bend, a spot" },
  { code: "nj", name: "North Rocks, a spot" },
  { code: "tw", name: "suspending minnow natural, a presentation; its mark in a strip is t" },
  { code: "pt", name: "paddle tail natural, 1/8 oz, hopped; its mark is p" },
  { code: "ck", name: "cork, shrimp natural, short drop; its mark is c" },
  { code: "p4", name: "paddle tail natural, 1/4 oz, bounced; its mark is n" },
  { code: "rd", name: "red drum, a species" },
  { code: "st", name: "spotted seatrout, a species" },
  { code: "nel", name: "Nell, an angler" },
]

/** In US units, on 15 May 2026, Tobin being the first angler of the trip. */
export const tapeExamples: readonly TapeExample[] = [
  {
    title: "A stint a line",
    text: "A clock opens a stint and closes the one above. Behind it stand the spot, the presentation, after a dot what became of each strike, and the fish. Spot and presentation carry on until another is named. Where nothing came, nothing more is typed: that is a blank stint. An x ends the fishing until the next clock.",
    lines: [
      {
        typed: "620 md tw.mml rd24,22",
        said: "6:20 to 7:05 (45 min) at Mill Drain: suspending minnow natural, 2 missed, 1 lost, landed red drum 24.0 in and 22.0 in.",
      },
      {
        typed: "705 pt",
        said: "7:05 to 7:30 (25 min) at Mill Drain: paddle tail natural, 1/8 oz, hopped.",
      },
      { typed: "730x", said: "Nobody fishes from 7:30." },
      {
        typed: "945 nj .gg",
        said: "9:45 to 10:15 (30 min) at North Rocks: paddle tail natural, 1/8 oz, hopped, 2 hang-ups.",
      },
      { typed: "1015x", said: "Nobody fishes from 10:15." },
    ],
  },
  {
    title: "Clocks",
    text: "Lines stand in the order of time. 620, 6:20 and 6 are clocks; without a or p each is the next time the clock shows that, so 1250 and then 115 is a quarter past one. 1315 and 0115 say by themselves which half of the day. ~ is about, +25 is minutes after the last clock, 40m behind it says how long, 620-705 from when to when. Minutes alone, or ?, stand where nobody knows when.",
    lines: [
      {
        typed: "~1250 md tw",
        said: "About 12:50 to 13:15 (25 min) at Mill Drain: suspending minnow natural.",
      },
      {
        typed: "115 pt 20m",
        said: "13:15 to 13:35 (20 min) at Mill Drain: paddle tail natural, 1/8 oz, hopped.",
      },
      {
        typed: "+30 ck",
        said: "13:45 to 14:10 (25 min) at Mill Drain: cork, shrimp natural, short drop.",
      },
      { typed: "+25x", said: "Nobody fishes from 14:10." },
      {
        typed: "45m sb tw",
        said: "For 45 min, not known when at Shell Bend: suspending minnow natural.",
      },
      {
        typed: "? pt rd?",
        said: "Not known when at Shell Bend: paddle tail natural, 1/8 oz, hopped, landed 1 red drum, not measured.",
      },
    ],
  },
  {
    title: "What came of it",
    text: "m missed, l lost, b bitten off; where less is known s struck, h hooked, n not landed. f a follow, g hung up, k a lure lost. A number behind a letter repeats it: m4. Landed fish are named with their lengths, comma between; ? is one not measured, *5 are five; and behind a length r released, k kept, w2.5 its weight, @640 when, :f on the fall, :p on the pause, :m on the move, /lip hooked where. A bare number goes on with the same species. A code with a dot says whose strike it was; fish is one of unknown species. A line without a clock goes on with the stint above.",
    lines: [
      {
        typed: "620 md tw.m4lg rd24k,22r 26w8.5 st*3",
        said: "6:20 to 7:00 (40 min) at Mill Drain: suspending minnow natural, 4 missed, 1 lost, 1 hang-up, landed red drum 24.0 in kept, 22.0 in released and 26.0 in 8.5 lb, landed 3 spotted seatrout, not measured.",
      },
      {
        typed: "700 pt st.l fish15",
        said: "7:00 to 7:40 (40 min) at Mill Drain: paddle tail natural, 1/8 oz, hopped, 1 spotted seatrout lost, landed fish of unknown species 15.0 in, landed red drum 19.0 in.",
      },
      {
        typed: "rd19@712:p/lip",
        said: "7:00 to 7:40 (40 min) at Mill Drain: paddle tail natural, 1/8 oz, hopped, 1 spotted seatrout lost, landed fish of unknown species 15.0 in, landed red drum 19.0 in.",
      },
      { typed: "740x", said: "Nobody fishes from 7:40." },
    ],
  },
  {
    title: "The presentation, done otherwise",
    text: "Behind a slash: /2x3 two actions and three seconds of pause, or a word for pace, rhythm, line, column or bait. *2 is on two rods. + is two presentations in turn, their time shared; | is two at once. ! is why it was changed: !p planned, !s slow, !l lost or fouled, !m moved, !w saw something.",
    lines: [
      {
        typed: "620 md pt/2x3/slow*2.m !s",
        said: "6:20 to 7:00 (40 min) at Mill Drain: paddle tail natural, 1/8 oz, hopped (2 actions, 3 s pause, slow) on 2 rods, 1 missed; changed: slow.",
      },
      {
        typed: "700 ck+p4.gg",
        said: "7:00 to 7:40 (40 min) at Mill Drain: cork, shrimp natural, short drop; paddle tail natural, 1/4 oz, bounced, 2 hang-ups, effort shared.",
      },
      {
        typed: "740 ck|tw rd24",
        said: "7:40 to 8:00 (20 min) at Mill Drain: cork, shrimp natural, short drop; suspending minnow natural, landed red drum 24.0 in.",
      },
      { typed: "800x", said: "Nobody fishes from 8:00." },
    ],
  },
  {
    title: "A second angler",
    text: "Lines without a name are those of the first angler named in the trip. A code and > begin another angler's own lane. His lines go with the boat until he names a spot himself. all> is everybody together, one rod for each angler of the trip unless *1 or another number is said: it ends what each was fishing, the spot it names is everybody's, and the next line of any one of them ends it. An x without a name ends everybody's.",
    lines: [
      {
        typed: "620 md tw.m",
        said: "6:20 to 7:20 (60 min) at Mill Drain: suspending minnow natural, 1 missed.",
      },
      {
        typed: "nel> 620 ck st15",
        said: "Nell, 6:20 to 7:00 (40 min) at Mill Drain: cork, shrimp natural, short drop, landed spotted seatrout 15.0 in.",
      },
      {
        typed: "nel> 700 pt",
        said: "Nell, 7:00 to 7:20 (20 min) at Mill Drain: paddle tail natural, 1/8 oz, hopped.",
      },
      {
        typed: "all> 720 sb pt",
        said: "All together, 7:20 to 8:00 (40 min) at Shell Bend: paddle tail natural, 1/8 oz, hopped on 2 rods.",
      },
      { typed: "800x", said: "Nobody fishes from 8:00." },
    ],
  },
  {
    title: "Readings of water and sky",
    text: "A line that begins with @ holds at the next clock and at its spot; with a clock behind the @ at that one, in its turn among the other lines. w water temperature, v visibility, wind speed and from where, cloud, baro, dep depth, sal salinity, secchi, mov water movement, bank, bait, boats, col colour. trip is of the waters around. Units are those of the settings, unless a unit is typed.",
    lines: [
      {
        typed: "@ w71 v stained wind 6 sw",
        said: "At 6:20: water temperature 71.0 °F, visibility stained, wind 6.0 kn, wind from SW.",
      },
      { typed: "620 md tw", said: "6:20 to 7:05 (45 min) at Mill Drain: suspending minnow natural." },
      { typed: "@ 640 dep 4 mov good", said: "At 6:40: water depth 4.0 ft, water movement good." },
      { typed: "705x", said: "Nobody fishes from 7:05." },
    ],
  },
  {
    title: "Ten-minute strips",
    text: "For days when lures change every few minutes, and for the printed card: from the clock on, one mark for each ten minutes (a letter that each presentation has besides its code, shown on the tackle page), - where nobody fished. Behind it what came of each ten minutes, commas between; the first has a dot.",
    lines: [
      {
        typed: '1000 md "ttp-c".m,l rd24,,,g',
        said: "10:00 to 10:20 (20 min) at Mill Drain: suspending minnow natural, 1 missed, 1 lost, landed red drum 24.0 in; 10:20 to 10:30 (10 min) paddle tail natural, 1/8 oz, hopped; 10:40 to 10:50 (10 min) cork, shrimp natural, short drop, 1 hang-up.",
      },
    ],
  },
  {
    title: "More, rarely needed",
    text: "Behind a spot a slash and what was fished from (anchored, held, drifting, poled, kayak, wading, bank), left= why you left. -10m a rest, sight or blind, depth=4, count=-m misses were not counted in this stint. A semicolon begins a note. A date on a line of its own begins another day.",
    lines: [
      {
        typed: '620 sb/drifting/left="too much wind" tw -10m depth=4 count=-m; wind got up',
        said: "6:20 to 7:20 (60 min) at Shell Bend, drifting, left: too much wind: suspending minnow natural; 10 min of rest; 4.0 ft deep; misses not counted; note: wind got up.",
      },
      { typed: "720x", said: "Nobody fishes from 7:20." },
    ],
  },
]
