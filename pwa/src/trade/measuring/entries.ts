// The shapes that measuring shares with whoever asks it.

/** How a figure stands to a limit. */
export type Standing = 'within' | 'outside' | 'not proven' | 'no limit'

/** One of the workshop's own statements, in the order of the log. */
export interface KnownEntry {
  id: string
  kind: string
  body: Record<string, unknown>
  claimed: string
}
