// The front of the room: screens import from here.
import { leftovers, keepLeftover } from './sound.ts'
import { openDarkroom } from './darkroom.ts'
import { makeMissingPreviews } from './preview.ts'
import { resumeWhere } from './where.ts'
import { resumeSignedIn } from './who.ts'

/** After the store has started: who was signed in and where; what an interruption left is saved and finished. */
export async function resume(): Promise<void> {
  openDarkroom()
  await Promise.all([resumeSignedIn(), resumeWhere()])
  void finishInterrupted()
}

async function finishInterrupted(): Promise<void> {
  for (const { id } of await leftovers()) await keepLeftover(id).catch(() => undefined) // stays among the leftovers
  await makeMissingPreviews()
}

export { boot, claimed, monotonic } from './clock.ts'
export { addDocument } from './document.ts'
export type { Saved } from './entry.ts'
export * from './facts.ts'
export { noteLogDifference } from './log_difference.ts'
export { openLive, type Live } from './live.ts'
export { takePhoto, type SavedPhoto } from './photo.ts'
export type { Hints } from './preview.ts'
export { A_NOTE, keepLeftover, leftovers, record, recordingNow, takeSound, type Leftover, type Recording, type SpokenTo } from './sound.ts'
export * from './tightening.ts'
export { beforeCamera, dropPending, pendingCapture, stayAt, where, type Where } from './where.ts'
export { signedIn, signIn, signOut, WrongPin } from './who.ts'
export { NotSaved } from '../store/index.ts'
