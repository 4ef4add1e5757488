// What shows that the server's log is not what it was: two fingerprints, both signed by its key, that cannot both be of a
// log which only grows. Kept until somebody has noted them in the record; nothing else ends the alarm.
import { signal } from '@preact/signals'
import { getSetting, putSetting } from './db.ts'
import type { HeadSeen } from './types.ts'

export interface Conflict {
  before: HeadSeen
  after: HeadSeen
  /** What is said of it on every screen. */
  words: string
  /** The record in which it was noted, '' until then. */
  noted: string
}

const NAME = 'conflict'

/** The two fingerprints that nobody has noted yet. */
export const conflict = signal<Conflict | null>(null)

export async function loadConflict(): Promise<void> {
  const kept = await getSetting<Conflict>(NAME)
  conflict.value = kept && !kept.noted ? kept : null
}

/** Keeps the first difference: what comes after it may only be a part of the same. */
export async function keepConflict(before: HeadSeen, after: HeadSeen, words: string): Promise<void> {
  if (conflict.peek()) return
  const found: Conflict = { before, after, words, noted: '' }
  await putSetting(NAME, found)
  conflict.value = found
}

/** Ends the alarm: the record `id` holds both fingerprints. From here on the log is measured by the later one. */
export async function settleConflict(id: string): Promise<void> {
  const open = conflict.peek()
  if (!open) return
  await putSetting(NAME, { ...open, noted: id })
  await putSetting('head', open.after)
  conflict.value = null
}

/** What the record of it says. */
export function conflictBody({ before, after }: Conflict): Record<string, string> {
  return { before: before.bytes, before_signature: before.signature, after: after.bytes, after_signature: after.signature }
}

/** Both fingerprints as a file for somebody outside the workshop; `openssl` can check the signatures. */
export function conflictFile(open: Conflict): Blob {
  return new Blob([`${JSON.stringify(conflictBody(open), null, 1)}\n`], { type: 'application/json' })
}
