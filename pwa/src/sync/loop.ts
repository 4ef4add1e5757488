// When it runs: at start, when the app is seen again, when a network appears, after every record, on a timer, on request.
// One run at a time in all tabs; a tab that froze while holding the turn loses it after a minute.
import { conflict, conflictWords, freeOriginals, getSetting, jobs, phone, putSetting, refreshRoom, room, waiting } from '../store/index.ts'
import { NoAnswer, Refused, Restored } from './api.ts'
import { takeState } from './epoch.ts'
import { findGone } from './gone.ts'
import { LogChanged } from './heads.ts'
import { sendOriginals, sendPreviews } from './media.ts'
import { fetchPreviews } from './others.ts'
import { BadRecord, pullAll } from './pull.ts'
import { pushAll } from './push.ts'
import { progress, raiseAlarm, resumeStatus, running, shutDoor, why } from './status.ts'
import { say } from '../store/say.ts'

const STALE_MS = 60_000
const BEAT_EVERY_MS = 5_000
const USUAL_WAIT_MS = 30_000
const LONGEST_WAIT_MS = 300_000

let boot = ''
let current: Promise<void> | null = null
let again = false
/** Whether the last run could not send what is recorded here: then only the timer or a new reason to run begins another. */
let stopped = false
let failures = 0
let timer: ReturnType<typeof setTimeout> | undefined

/** Runs now. A second call while a run is under way leads to another run after it, and waits for that. */
export function sendNow(): Promise<void> {
  if (current) {
    again = true
    return current
  }
  current = repeat().finally(() => {
    current = null
    schedule()
  })
  return current
}

async function repeat(): Promise<void> {
  do {
    again = false
    await turn()
  } while (again && !stopped)
}

/** Takes the turn among all tabs, or leaves it to the tab that has it and is alive. */
async function turn(): Promise<void> {
  if (!phone.peek()) return
  if (typeof navigator === 'undefined' || !navigator.locks) return guarded()
  const name = 'witnessmark-sync'
  const got = await navigator.locks
    .request(name, { ifAvailable: true }, async (lock) => {
      if (lock) await guarded()
      return lock !== null
    })
    .catch(taken)
  if (got || Date.now() - ((await getSetting<number>('heartbeat')) ?? 0) < STALE_MS) return
  await navigator.locks.request(name, { steal: true }, () => guarded()).catch(taken)
}

/** Another tab took the turn away in the middle, and goes on with it: no fault of this one. */
function taken(fault: unknown): true {
  if (fault instanceof DOMException && fault.name === 'AbortError') return true
  throw fault
}

async function guarded(): Promise<void> {
  running.value = true
  stopped = false
  try {
    const aside = await run()
    if (aside.length) {
      failures++
      await explain(aside[0])
    } else {
      failures = 0
      why.value = ''
      shutDoor.value = false
    }
  } catch (fault) {
    failures++
    stopped = !(fault instanceof Restored)
    await explain(fault)
  } finally {
    running.value = false
    progress.value = ''
  }
}

/**
 * The order: the server's state; records; previews; originals; others' records and pictures; room, when it is short.
 * What is recorded here leaves first, and only the server's state, a record or an original that fails ends the run. Resolves
 * with the faults of the other steps, which stop nothing.
 */
async function run(): Promise<unknown[]> {
  let last = 0
  const beat = async () => {
    if (Date.now() - last < BEAT_EVERY_MS) return
    last = Date.now()
    await putSetting('heartbeat', last)
  }
  const faults: unknown[] = []
  const aside = (step: () => Promise<void>) => step().catch((fault: unknown) => void faults.push(fault))
  await beat()
  const state = await takeState(boot)
  await pushAll(beat)
  await aside(sayGone)
  await aside(() => sendPreviews(beat))
  await sendOriginals(state.chunk_bytes, beat)
  // Those that were made meanwhile: after a restart they come late, and the timer would be their next chance.
  await aside(() => sendPreviews(beat))
  await aside(() => pullAll(state.size, beat))
  await aside(() => fetchPreviews(beat))
  await refreshRoom()
  if (room.value.tight) await freeOriginals()
  return faults
}

/** Adds to the alarm which confirmed records of this phone the server's log no longer holds. */
async function sayGone(): Promise<void> {
  await findGone()
  if (conflict.peek()?.gone?.length) await raiseAlarm(conflictWords())
}

async function explain(fault: unknown): Promise<void> {
  if (fault instanceof Restored) {
    again = true
    why.value = ''
    return
  }
  if (fault instanceof LogChanged || fault instanceof BadRecord) {
    await raiseAlarm(fault.message)
    why.value = say('sync.records_do_not_add_up')
    // As far as it can be asked: without an answer it is asked again at the next run.
    await sayGone().catch(() => undefined)
  } else if (fault instanceof NoAnswer) why.value = fault.message
  else if (fault instanceof Refused && fault.status === 401) {
    why.value = say('sync.token_unknown')
    shutDoor.value = true
  } else if (fault instanceof Refused) why.value = fault.message
  else why.value = say('sync.stopped', { why: fault instanceof Error ? fault.message : String(fault) })
}

function schedule(): void {
  clearTimeout(timer)
  const wait = Math.min(LONGEST_WAIT_MS, USUAL_WAIT_MS * 2 ** Math.min(failures, 8))
  // Spread, so that phones that lost the server together do not come back together.
  timer = setTimeout(() => void sendNow(), wait * (0.75 + Math.random() / 2))
}

/** Starts the loop. `thisBoot` marks this run of the page in the measure of the clock. */
export async function startLoop(thisBoot: string): Promise<void> {
  boot = thisBoot
  await resumeStatus()
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && void sendNow())
  addEventListener('online', () => void sendNow())
  let before = total()
  let soon: ReturnType<typeof setTimeout> | undefined
  waiting.subscribe(() => {
    const now = total()
    if (now > before) {
      clearTimeout(soon)
      soon = setTimeout(() => void sendNow(), 300)
    }
    before = now
  })
  // A job somebody wants whole on this phone is fetched while they look, not at the next turn of the timer.
  let kept = chosen()
  jobs.subscribe(() => {
    const now = chosen()
    if (now > kept) void sendNow()
    kept = now
  })
  void sendNow()
}

function chosen(): number {
  return jobs.peek().filter((job) => job.chosen).length
}

function total(): number {
  const { records, pictures, sounds } = waiting.peek()
  return records + pictures + sounds
}
