// The page's voice to the worker that hears. Everything stays on this phone.
import { type ReadonlySignal } from '@preact/signals'
import type { EngineType } from '../trade/engine/parts.ts'
import type { OwnWord, Screen } from '../trade/spoken/types.ts'
import { WORKER } from './names.ts'
import { parts, renewParts, usable } from './parts.ts'
import type { Asked, Heard, Told } from './shapes.ts'

export { decodePcm } from './decode.ts'
export type { Heard } from './shapes.ts'

/** A slow phone and twenty seconds of speech; after that something hangs. */
const PATIENCE_MS = 45_000
/** The worker holds some 60 MB: it goes when nobody has spoken for so long, and is opened again when somebody does. */
const IDLE_MS = 180_000

let worker: Worker | null = null
let next = 1
let idle: ReturnType<typeof setTimeout> | undefined
const open = new Map<number, { resolve: (told: Told) => void; reject: (fault: Error) => void }>()

/** Whether speech is understood on this phone now: the parts are here. The first call looks for them. */
export function canHear(): ReadonlySignal<boolean> {
  if (parts.peek().state === 'unseen' && typeof caches !== 'undefined' && typeof Worker !== 'undefined') void renewParts()
  return usable
}

/** Gets ready for what may be said on this screen, so that the first word costs no waiting. Rejects as `hear` does. */
export async function warm(screen: Screen, engine_type: EngineType | null, own: OwnWord[]): Promise<void> {
  await ask({ id: next++, subject: { screen, engine_type, own } }, [])
}

/**
 * What was said, offered and never recorded from here. `text` '' is "not understood, say it again", and `why` says why.
 * Rejects with a sentence when the worker broke: the next call starts a new one. `pcm` is handed over and gone.
 */
export async function hear(pcm: Float32Array<ArrayBuffer>, rate: number, screen: Screen, engine_type: EngineType | null, own: OwnWord[]): Promise<Heard> {
  const told = await ask({ id: next++, subject: { screen, engine_type, own }, pcm, rate }, [pcm.buffer])
  if (!('heard' in told)) throw new Error('Speech answered out of turn on this phone. Say it again.')
  return told.heard
}

/** Lets the worker go with all its memory. */
export function rest(why = 'Speech was switched off on this phone.'): void {
  clearTimeout(idle)
  worker?.terminate()
  worker = null
  for (const { reject } of open.values()) reject(new Error(why))
  open.clear()
}

function begin(): Worker {
  const one = new Worker(new URL(`speech/${WORKER}`, location.href), { type: 'module' })
  one.onmessage = ({ data }: MessageEvent<Told>) => {
    const asked = open.get(data.id)
    open.delete(data.id)
    if ('fault' in data) {
      asked?.reject(new Error(data.fault))
      // What broke once is not trusted again.
      rest(data.fault)
    } else asked?.resolve(data)
  }
  one.onerror = (event) => {
    event.preventDefault()
    rest('Speech stopped on this phone, perhaps for want of memory. Close other apps, then say it again.')
  }
  return one
}

async function ask(asked: Asked, transfer: Transferable[]): Promise<Told> {
  if (!usable.value) throw new Error('The speech parts are not on this phone. Fetch them in Settings.')
  clearTimeout(idle)
  let late: ReturnType<typeof setTimeout> | undefined
  try {
    return await new Promise<Told>((resolve, reject) => {
      late = setTimeout(() => rest('Speech took too long on this phone.'), PATIENCE_MS)
      open.set(asked.id, { resolve, reject })
      worker ??= begin()
      worker.postMessage(asked, transfer)
    })
  } finally {
    clearTimeout(late)
    if (!open.size) idle = setTimeout(rest, IDLE_MS)
  }
}
