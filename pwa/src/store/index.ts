// The front of the room: screens and the other rooms import from here.
import { loadConflict } from './conflict.ts'
import { countDrafts } from './drafts.ts'
import { refreshIdentity } from './identity.ts'
import { followJobs, refreshJobs } from './jobs.ts'
import { followKnown, refreshKnown } from './known.ts'
import { refreshRoom } from './room.ts'
import { checkUnready } from './save.ts'
import { selftest } from './selftest.ts'
import { announceChange, waiting as held } from './changes.ts'
import { inTheWay as obstacle } from './db.ts'
import { emptiedWords, leaveMark } from './mark.ts'

let started: Promise<void> | null = null

/** Opens the store, tests it and fills the signals; screens may draw as soon as it resolves. */
export function start(): Promise<void> {
  return (started ??= begin())
}

async function begin(): Promise<void> {
  const { state } = await selftest()
  if (state === 'blocked') {
    started = null
    return
  }
  await Promise.all([refreshIdentity(), refreshJobs(), refreshKnown(), countDrafts(), loadConflict()])
  await announceChange()
  followJobs()
  followKnown()
  obstacle.value ||= emptiedWords()
  held.subscribe(leaveMark)
  void checkUnready().then(announceChange)
  void refreshRoom()
}

export { changed, announceChange, waiting, type Waiting } from './changes.ts'
export { dropSetting, getSetting, inTheWay, putSetting, StoreFault, withDb } from './db.ts'
export { dropDraft, getDraft, openDrafts, putDraft } from './drafts.ts'
export { exportFile } from './export.ts'
export { conflict, conflictBody, conflictFile, conflictWords, keepConflict, keepGone, ownReceipts, ranges, settleConflict, type Confirmed, type Conflict } from './conflict.ts'
export * from './feeds.ts'
export { alone, base64, hex, unbase64, unhex } from './hash.ts'
export * from './identity.ts'
export { chooseJob, engineTypes, jobFacts, jobs } from './jobs.ts'
export { known, ownWords, tightening } from './known.ts'
export { holding, serialised, unlessHeld } from './locks.ts'
export { mediaFacts, originalOf, previewOf, previewRow, putPreview, sliceOf, withoutPreview } from './media.ts'
export * from './outbox.ts'
export { checklist, countOf, kindsByPlace, record, tallies, timeline, within, type TimelineQuery } from './records.ts'
export { readingsOf } from './readings.ts'
export { runsOf, type EntryOfRun, type JobRun } from './runs.ts'
export { freeOriginals, keepForGood, refreshRoom, room, roomRule, size, type Room } from './room.ts'
export { NotSaved, save, type Make, type NewFile } from './save.ts'
export { health, type Health } from './selftest.ts'
export type { SendingStatus, Server, UpdateState } from './server.ts'
export * from './sounds.ts'
export { spokenOf } from './spoken.ts'
export * from './types.ts'
