// Spoken notes: every second is in the store before the next is heard; an interruption leaves a recording, not a gap.
import { signal, type Signal } from '@preact/signals'
import { uuid7 } from '../trade/ground/uuid7.ts'
import { addSound, beginSound, dropSound, holding, joinSound, NotSaved, soundsLeft, unlessHeld, type SoundFacts } from '../store/index.ts'
import { claimed, monotonic } from './clock.ts'
import { capture, type Saved } from './entry.ts'
import { copyOf, nameOf } from './photo.ts'
import { locationOf, type Where } from './where.ts'
import { signedIn } from './who.ts'
import { say } from '../store/say.ts'

/** In the order of how widely they play. */
export const PREFERRED = ['audio/mp4;codecs=mp4a.40.2', 'audio/mp4', 'audio/webm;codecs=opus', 'audio/webm', 'audio/ogg;codecs=opus']

const EVERY_MS = 1000

/** Evidence is what the microphone hears: nothing is taken out of it and nothing is made louder. */
const AS_IT_SOUNDS = { echoCancellation: false, noiseSuppression: false, autoGainControl: false }

export const recordingNow = signal(false)

export interface Recording {
  seconds: Signal<number>
  /** What the microphone hears, to show how loud it is. */
  stream: MediaStream
  /** '' while it runs; what went wrong when it was cut off. */
  cut: Signal<string>
  /** Ends and saves it. After an interruption: what that saved already. */
  stop(): Promise<Saved>
  /** Ends it and discards it: it is no record yet. */
  cancel(): Promise<void>
}

export type Leftover = SoundFacts

/** What a recording is for and to which screen it is spoken: the server hears it again by these. */
export interface SpokenTo {
  mode: 'note' | 'measure'
  screen: 'none' | 'measure' | 'finding' | 'tighten'
  /** Of the reading that was open, as in a measurement; '' outside any. */
  procedure: string
  reading: string
}

export const A_NOTE: SpokenTo = { mode: 'note', screen: 'none', procedure: '', reading: '' }

/** Starts recording. Rejects with a sentence when there is no microphone, or it is not allowed. */
export async function record(at: Where, caption = '', to: SpokenTo = A_NOTE): Promise<Recording> {
  const author = signedIn.value?.id
  if (!author) throw new NotSaved(say('capture.nobody'), [])
  let stream: MediaStream
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: AS_IT_SOUNDS })
  } catch (fault) {
    const why = fault instanceof Error ? fault.name : String(fault)
    throw new Error(say('sound.did_not_open', { why }))
  }
  const type = PREFERRED.find((offered) => MediaRecorder.isTypeSupported(offered))
  const recorder = new MediaRecorder(stream, type ? { mimeType: type } : {})
  const facts: SoundFacts = { id: uuid7(), where: at, author, caption, type: '', started: claimed(), chunks: 0, duration_ms: 0, to }
  return run(recorder, stream, facts)
}

async function run(recorder: MediaRecorder, stream: MediaStream, facts: SoundFacts): Promise<Recording> {
  const cut = signal('')
  let wanted: 'save' | 'cut' | 'discard' = 'save'
  recordingNow.value = true
  const interrupt = (reason: string) => {
    if (wanted !== 'save' || recorder.state === 'inactive') return
    wanted = 'cut'
    cut.value = reason
    recorder.stop()
  }
  const { seconds, written } = storeEachSecond(recorder, facts, () => interrupt(say('sound.store_full')))
  const unwatch = watchForInterruption(recorder, stream, interrupt)
  const over = new Promise<void>((resolve) => (recorder.onstop = () => resolve()))
  // Other tabs see by the held name that this recording is alive, and leave it alone.
  const saved = holding(`sound-${facts.id}`, async () => {
    await over
    unwatch()
    await written().catch(() => undefined)
    try {
      if (wanted === 'discard') {
        await dropSound(facts.id)
        return null
      }
      return await keep(facts, wanted === 'cut')
    } finally {
      recordingNow.value = false
    }
  })
  saved.catch(() => undefined)
  recorder.start(EVERY_MS)
  const end = () => recorder.state !== 'inactive' && recorder.stop()
  return {
    seconds,
    stream,
    cut,
    async stop() {
      end()
      const done = await saved
      if (!done) throw new NotSaved(say('sound.discarded'), [])
      return done
    },
    async cancel() {
      wanted = 'discard'
      end()
      await saved
    },
  }
}

/** Stores every second as it comes. `written` resolves when all of them are; `onFull` when one could not be stored. */
function storeEachSecond(recorder: MediaRecorder, facts: SoundFacts, onFull: () => void) {
  const seconds = signal(0)
  const began = monotonic()
  let n = 0
  let writing: Promise<unknown> = beginSound(facts)
  recorder.ondataavailable = ({ data }) => {
    if (data.size === 0) return
    const mine = n++
    facts.type = recorder.mimeType
    facts.duration_ms = monotonic() - began
    seconds.value = Math.round(facts.duration_ms / 1000)
    const now = { ...facts }
    writing = writing.then(async () => addSound(now, mine, await data.arrayBuffer()))
    writing.catch(onFull)
  }
  return { seconds, written: () => writing }
}

/** Keeps the screen on, and calls `interrupt` with the reason when the phone ends the recording. Returns how to stop all that. */
function watchForInterruption(recorder: MediaRecorder, stream: MediaStream, interrupt: (reason: string) => void): () => void {
  const wake = navigator.wakeLock?.request('screen').catch(() => null)
  const hidden = () => document.visibilityState === 'hidden' && interrupt(say('sound.background'))
  recorder.onerror = () => interrupt(say('sound.browser_stopped'))
  for (const track of stream.getTracks()) track.onended = () => interrupt(say('sound.microphone_lost'))
  document.addEventListener('visibilitychange', hidden)
  addEventListener('pagehide', hidden)
  return () => {
    for (const track of stream.getTracks()) track.stop()
    document.removeEventListener('visibilitychange', hidden)
    removeEventListener('pagehide', hidden)
    void wake?.then((lock) => lock?.release())
  }
}

async function keep(facts: SoundFacts, interrupted: boolean): Promise<Saved> {
  const bytes = await joinSound(facts.id)
  if (!bytes || bytes.byteLength === 0) {
    await dropSound(facts.id)
    throw new NotSaved(say('sound.nothing'), [])
  }
  const type = facts.type.split(';')[0] || 'application/octet-stream'
  const name = `spoken-${facts.started.slice(0, 19).replace(/[-:]/g, '')}.${extension(type)}`
  const { duration_ms, caption, author } = facts
  const saved = await capture({
    kind: 'sound_recorded',
    job: facts.where.job,
    location: locationOf(facts.where),
    // What an older build left behind names no screen: it was a note.
    body: { method: 'live', duration_ms, interrupted, caption, ...(facts.to ?? A_NOTE) },
    files: [{ bytes, type, role: 'audio', name }],
    author,
  })
  await dropSound(facts.id)
  return saved
}

/** What an interruption left, recordings of this moment in other tabs excepted. */
export async function leftovers(): Promise<Leftover[]> {
  const left: Leftover[] = []
  for (const facts of await soundsLeft()) if (await unlessHeld(`sound-${facts.id}`, async () => true)) left.push(facts)
  return left
}

/** Joins what was left and saves it, marked as interrupted. Under the name of whoever recorded it. */
export async function keepLeftover(id: string): Promise<Saved> {
  const facts = (await soundsLeft()).find((left) => left.id === id)
  if (!facts) throw new NotSaved(say('sound.already'), [])
  const saved = await unlessHeld(`sound-${id}`, () => keep(facts, true))
  if (!saved) throw new NotSaved(say('sound.other_tab'), [])
  return saved
}

/** A sound from a file, its bytes as they came. */
export async function takeSound(at: Where, file: File, caption = ''): Promise<Saved> {
  const bytes = await copyOf(file)
  const type = file.type.startsWith('audio/') ? file.type : 'application/octet-stream'
  const body = { method: 'file', duration_ms: 0, interrupted: false, caption, ...A_NOTE }
  return capture({ kind: 'sound_recorded', job: at.job, location: locationOf(at), body, files: [{ bytes, type, role: 'audio', name: nameOf(file) }] })
}

const EXTENSIONS: Record<string, string> = { 'audio/mp4': 'm4a', 'audio/webm': 'webm', 'audio/ogg': 'ogg' }
const extension = (type: string) => EXTENSIONS[type] ?? 'bin'
