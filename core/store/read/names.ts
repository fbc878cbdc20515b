import type { Database } from "better-sqlite3"
import { z } from "zod"
import type { Entity } from "../../../shared/entities.ts"
import type { FactorId } from "../../../shared/factors.ts"

const Named = z.array(z.object({ id: z.string(), name: z.string() }))
const Words = z.array(z.object({ word: z.string() }))
const Zones = z.array(z.object({ name: z.string(), zone: z.string() }))

/** Entities that are found again by their name. */
export type NamedEntity = "angler" | "spot" | "species" | "lure_class" | "presentation"

/** The live rows of a named entity. */
export function namesOf(db: Database, entity: NamedEntity): { id: string; name: string }[] {
  return Named.parse(
    db.prepare(`SELECT id, name FROM ${entity} WHERE deleted_at IS NULL ORDER BY name`).all(),
  )
}

/** Whether a live row of an entity with names has this one, whatever its case. */
export const isNameTaken = (db: Database, entity: Entity, name: string): boolean =>
  db.prepare(`SELECT 1 FROM ${entity} WHERE name = ? COLLATE NOCASE AND deleted_at IS NULL`).get(name) !==
  undefined

/** The zones of the spots that have one of their own, by the spot's name in lower case. */
export function spotZones(db: Database): Map<string, string> {
  const rows = Zones.parse(
    db.prepare("SELECT name, zone FROM spot WHERE deleted_at IS NULL AND zone IS NOT NULL").all(),
  )
  return new Map(rows.map(({ name, zone }) => [name.toLowerCase(), zone]))
}

/** Where the free words of each factor are kept. */
const places = {
  lure_class: "SELECT name AS word FROM lure_class",
  species: "SELECT name AS word FROM species",
  spot: "SELECT name AS word FROM spot",
  angler: "SELECT name AS word FROM angler",
  presentation: "SELECT name AS word FROM presentation",
  lure: "SELECT name AS word FROM lure",
  profile: "SELECT profile AS word FROM lure",
  lure_sound: "SELECT lure_sound AS word FROM lure",
  imitates: "SELECT imitates AS word FROM lure",
  cork_shape: "SELECT cork_shape AS word FROM rig",
  cork_sound: "SELECT cork_sound AS word FROM rig",
  retrieve_style: "SELECT retrieve_style AS word FROM retrieve",
  ground: "SELECT ground AS word FROM spot UNION SELECT ground FROM stop",
  structure: "SELECT structure AS word FROM spot UNION SELECT structure FROM stop",
  water_colour: "SELECT water_colour AS word FROM observation",
  bank_water: "SELECT bank_water AS word FROM observation",
  bait_seen: "SELECT bait_seen AS word FROM observation",
} as const satisfies Partial<Record<FactorId | "species", string>>

/** A list whose words the user makes. */
export type FreeList = keyof typeof places

export const isFreeList = (id: string): id is FreeList => id in places

/** The words in use in one of the user's own lists. */
export function wordsOf(db: Database, list: FreeList): string[] {
  return Words.parse(
    db.prepare(`SELECT DISTINCT word FROM (${places[list]}) WHERE word IS NOT NULL ORDER BY word`).all(),
  ).map(({ word }) => word)
}

/** The months (1 to 12) or the years in which there were trips, in order. */
export function calendarOf(db: Database, part: "month" | "year"): string[] {
  const format = part === "month" ? "%m" : "%Y"
  return Words.parse(
    db
      .prepare(
        `SELECT DISTINCT CAST(CAST(strftime(?, date) AS INTEGER) AS TEXT) AS word FROM trip
         WHERE deleted_at IS NULL AND status = 'closed' ORDER BY CAST(word AS INTEGER)`,
      )
      .all(format),
  ).map(({ word }) => word)
}

const Value = z.object({ value: z.string() }).optional()

/** A setting of the logbook, or null. */
export function settingOf(db: Database, key: string): string | null {
  const row = db.prepare("SELECT value FROM setting WHERE key = ? AND deleted_at IS NULL").get(key)
  return Value.parse(row)?.value ?? null
}

const Settings = z.array(z.object({ key: z.string(), value: z.string() }))

/** The settings of the logbook whose key begins with `prefix`. */
export const settingsNamed = (db: Database, prefix: string): z.infer<typeof Settings> =>
  Settings.parse(
    db
      .prepare(
        "SELECT key, value FROM setting WHERE deleted_at IS NULL AND substr(key, 1, ?) = ? ORDER BY key",
      )
      .all(prefix.length, prefix),
  )
