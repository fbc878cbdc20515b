import { createHash, randomBytes, timingSafeEqual } from "node:crypto"

/** 32 random bytes, fit for a path, a cookie or a header. */
export function newSecret(): string {
  return randomBytes(32).toString("base64url")
}

const digest = (text: string): Buffer => createHash("sha256").update(text).digest()

/** Whether two secrets are the same, in a time that tells nothing of where they differ. */
export function sameSecret(a: string, b: string): boolean {
  return timingSafeEqual(digest(a), digest(b))
}

/** Who may come in: links that work once, and the sessions they opened. */
export type Admission = {
  /** A new token for one link. */
  issue(): string
  /** Uses a token up: the session it opens, or null where it is unknown or used. */
  redeem(token: string): string | null
  /** Whether a session is one of ours. */
  knows(session: string): boolean
}

export function makeAdmission(): Admission {
  let tokens: readonly string[] = []
  let sessions: readonly string[] = []
  return {
    issue: () => {
      const token = newSecret()
      tokens = [...tokens, token]
      return token
    },
    redeem: (token) => {
      if (!tokens.some((known) => sameSecret(known, token))) return null
      tokens = tokens.filter((known) => !sameSecret(known, token))
      const session = newSecret()
      sessions = [...sessions, session]
      return session
    },
    knows: (session) => sessions.some((known) => sameSecret(known, session)),
  }
}
