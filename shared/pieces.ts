import { z } from "zod"
import { Answer } from "./answer.ts"
import { TackleParts } from "./tackle.ts"

/** What presentations are made of. */
export const pieceKinds = ["lure", "rig", "retrieve"] as const
export const PieceKind = z.enum(pieceKinds)
export type PieceKind = z.infer<typeof PieceKind>

const PartName = z.enum(["name", ...TackleParts.keyof().options])
export type PartName = z.infer<typeof PartName>

const id = z.string()

/** A lure, a rig or a retrieve with its parts as they are typed, in the reader's units. */
export const Piece = z.object({
  id,
  /** What it is called, else its parts in words. */
  name: z.string(),
  words: z.string(),
  fields: z.array(
    z.object({
      part: PartName,
      label: z.string(),
      text: z.string(),
      /** Words that may stand there, or did elsewhere. */
      choices: z.array(z.string()),
    }),
  ),
  presentations: z.array(z.object({ id, name: z.string(), retired: z.boolean() })),
  stints: z.int(),
  trips: z.int(),
  last: z.string().nullable(),
  /** Whether all its presentations are retired, so that it is not offered any more. */
  retired: z.boolean(),
})
export type Piece = z.infer<typeof Piece>

const piece = { what: PieceKind, id }
const done = z.object({ act: z.string(), said: z.string() })

export const pieceMethods = {
  "pieces.list": { input: z.object({}), output: z.record(PieceKind, z.array(Piece)) },
  /** What it landed per rod-hour as fished, with its interval; null where no stint tells. */
  "pieces.result": { input: z.object(piece), output: Answer.shape.levels.element.nullable() },
  /** One part as typed, in the reader's units; empty is not said. It changes in every presentation that has the piece. */
  "pieces.save": { input: z.object({ ...piece, part: PartName, text: z.string().max(200) }), output: done },
  /** Retires all presentations of a piece, or brings them back. */
  "pieces.retire": { input: z.object({ ...piece, retired: z.boolean() }), output: done },
} as const
