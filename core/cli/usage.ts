/** A command line that was not understood: exit status 2. */
export class UsageError extends Error {}

export const usage = `Stintbook keeps a fishing log, blank hours included, and asks it questions.

  stintbook new FILE                       make an empty logbook
  stintbook check FILE                     look through it for damage; list its imports
  stintbook backup FILE                    copy it into its backup folder
  stintbook import FILE TABLE...           bring tables in (CSV, TSV, XLSX)
      --dry-run                            only say what would happen
      --map "Their column=ours"            name a column; "Year+Month+Day=date" joins,
                                           "Count=landed:seatrout" splits by species
      --zone ZONE                          IANA time zone of rows that do not say
      --trip-is day|row                    rows without a trip: one trip a day and angler, or each
      --repeats separate                   equal rows are stints of their own
      --all-or-nothing                     one refused row stops the import
  stintbook take-back FILE BATCH           undo a whole import (--edited-too: also rows edited since)
  stintbook export FILE DIR                write it as plain tables (--coordinates: with places)
  stintbook ask FILE --outcome O --by FACTOR|all
      --species S --where "FACTOR=LEVEL" --cuts "12,18,24" --effort all|target
      --given F,F|none --depends-on FACTOR --basis raw

Outcomes: landed_rate strike_rate hook_up_share landing_share any_fish hang_up_rate length_mm
Every command takes --json.`
