import { conflict, conflictBody, settleConflict } from '../store/index.ts'
import { capture, type Saved } from './entry.ts'

/** Puts the two log fingerprints that contradict each other into the record and ends the alarm; null when there are none. */
export async function noteLogDifference(): Promise<Saved | null> {
  const standing = conflict.peek()
  if (!standing) return null
  const saved = await capture({ kind: 'log_difference_noted', body: conflictBody(standing), job: null })
  await settleConflict(saved.id)
  return saved
}
