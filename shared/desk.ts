import { z } from "zod"

/** Folders and paths stay with the host: a logbook goes by its file's name in the one logbook folder. */
export const fileName = z
  .string()
  .min(1)
  .max(120)
  .regex(/^[^/\\:*?"<>|\p{Cc}]+$/u, "A file name has no slashes or signs that systems keep for themselves.")

/** A logbook file in the folder. `changed_at` in UTC ms. */
const LogbookFile = z.object({ name: z.string(), bytes: z.int(), changed_at: z.int(), sample: z.boolean() })

/** What lies on the desk: the folder, its logbooks, and the one that is open. */
export const DeskState = z.object({
  /** The folder in words to show; never sent back. */
  folder: z.string(),
  files: z.array(LogbookFile),
  /** Names opened before, latest first. */
  recent: z.array(z.string()),
  open: z
    .object({
      name: z.string(),
      /** Why it may only be read, in a sentence; null where it may be written. */
      read_only: z.string().nullable(),
      sample: z.boolean(),
    })
    .nullable(),
  /** Why nothing is open where that was not the user's wish: a sentence; null otherwise. */
  problem: z.string().nullable(),
  /** The logbook of the folder that could not be opened because it is damaged: a backup can take its place. */
  damaged: z.string().nullable(),
})
export type DeskState = z.infer<typeof DeskState>

/** What this computer's user likes, whatever logbook is open. */
export const Preferences = z.object({
  theme: z.enum(["system", "light", "dark"]),
  text_size: z.enum(["small", "normal", "large", "very large"]),
})
export type Preferences = z.infer<typeof Preferences>

/** What to change of them: what is not named stays as it is. */
export const PreferencesChange = Preferences.partial()
export type PreferencesChange = z.infer<typeof PreferencesChange>

/** Files cross to the core in pieces of at most this many bytes, to at most this many in all. */
export const pieceBytes = 4 * 1024 * 1024
export const mostUploadBytes = 256 * 1024 * 1024

/** A backup of the open logbook. `why`: what it was taken before, or by hand. */
export const Backup = z.object({ name: z.string(), at: z.int(), bytes: z.int(), why: z.string() })
export type Backup = z.infer<typeof Backup>
