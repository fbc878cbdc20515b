/** A command line that was not understood: exit status 2. */
export class UsageError extends Error {}

export const usage = `Stintbook keeps a fishing log, blank hours included, and asks it questions.

  stintbook demo FILE                      make the sample logbook of an invented guide
      --seed N --seasons N                 another one; the same seed gives the same days
      --truth FILE                         also write what is really true in it
  stintbook new FILE                       make an empty logbook
  stintbook check FILE                     look through it for damage; list its imports
  stintbook backup FILE                    copy it into its backup folder
  stintbook import FILE TABLE...           bring tables in (CSV, TSV, XLSX), files of buoys and
                                           water-level stations for the trips they reach, or
                                           tracks (GPX)
      --dry-run                            only say what would happen
      --map "Their column=ours"            name a column; "Year+Month+Day=date" joins,
                                           "Count=landed:seatrout" splits by species
      --zone ZONE                          IANA time zone of rows that do not say
      --trip-is day|row                    rows without a trip: one trip a day and angler, or each
      --repeats separate                   equal rows are stints of their own
      --all-or-nothing                     one refused row stops the import
      --station-units us|metric            units of station files that do not say theirs
  stintbook take-back FILE BATCH           undo a whole import (--edited-too: also rows edited since)
  stintbook export FILE DIR                write it as plain tables (--coordinates: with places)
  stintbook log FILE --date D < day.txt     keep a whole day typed on the tape, as a new trip
      --place SPOT --angler NAME           where it begins; who (more than once for several)
  stintbook ask FILE --outcome O --by FACTOR|all
      --species S --where "FACTOR=LEVEL" --cuts "12,18,24" --effort all|target
      --given F,F|none --depends-on FACTOR --basis raw|adjusted|same_trip|same_stop
      --worth 1.33 --question steps|patience
      --units us|metric                    in place of the logbook's own; cuts and levels stay SI
  stintbook spots FILE                     list spots and the stations that stand for them
  stintbook spot FILE NAME                 make or change a spot ("none" empties a value)
      --at "31 23.4 N 81 17.3 W"           its place, in any usual notation
      --tide ID --current ID --zone ZONE   its stations; the nearest in reach where none is chosen
      --lag-high MIN --lag-low MIN         how much later its tide is than the station's
      --slack-after-high MIN --slack-after-low MIN --slack-source "own, June 2026"
  stintbook stations --lat N --lon N       list the tide and current stations nearby
  stintbook stations NAME|ID               find one by its name, a part of it, or its id
      --logbook FILE                       also among the stations of your own in it
  stintbook station FILE NAME              keep a tide station of your own
      --lat N --lon N --source "whence, when"
      --constants FILE.csv --datum D --mean M (name, amplitude_m, phase_deg_gmt)
      --reference ID --high MIN[,RATIO[,M]] --low MIN[,RATIO[,M]]
  stintbook settings FILE                  show the logbook's units and home zone, or change them
      --units us|metric --home-zone ZONE   ("none" forgets the zone)
      --temperature c|f --speed ms|kn|mph|kmh --pressure hpa|inhg --depth m|ft
      --sight-depth cm|in|ft --length mm|cm|in --tackle-weight g|oz --fish-weight kg|lb
      --line-strength n|kgf|lbf            one choice at a time
  stintbook undo FILE                      list the latest acts
  stintbook undo FILE ACT                  put back what one of them changed
  stintbook conditions --lat N --lon N --at ISO
      --station ID --until ISO --every MIN --units us|metric

Outcomes: landed_rate strike_rate hook_up_share landing_share any_fish hang_up_rate length_mm
Every command takes --json.`
