// Main-thread client of the speech worker. Everything stays on this phone.
import { type ReadonlySignal } from '@preact/signals'
import type { EngineType } from '../trade/engine/parts.ts'
import type { OwnWord, Screen } from '../trade/spoken/types.ts'
import { WORKER } from './names.ts'
import { parts, renewParts, usable } from './parts.ts'
import type { Heard, WorkerReply, WorkerRequest } from './shapes.ts'
import { say } from './say.ts'

export { decodePcm } from './decode.ts'
export type { Heard } from './shapes.ts'

/** A slow phone and twenty seconds of speech; after that something hangs. */
const PATIENCE_MS = 45_000
/** The worker holds some 60 MB: it is closed when nobody has spoken for so long, and opened again when somebody does. */
const IDLE_MS = 180_000

let worker: Worker | null = null
let next = 1
let idle: ReturnType<typeof setTimeout> | undefined
const open = new Map<number, { resolve: (reply: WorkerReply) => void; reject: (fault: Error) => void }>()

/** Whether speech is understood on this phone now: the parts are here. The first call looks for them. */
export function canHear(): ReadonlySignal<boolean> {
  if (parts.peek().state === 'unseen' && typeof caches !== 'undefined' && typeof Worker !== 'undefined') void renewParts()
  return usable
}

/** Gets ready for what may be said on this screen, so that the first word costs no waiting. Rejects as `hear` does. */
export async function warm(screen: Screen, engine_type: EngineType | null, own: OwnWord[]): Promise<void> {
  await send({ id: next++, subject: { screen, engine_type, own } }, [])
}

/**
 * What was said, offered and never recorded from here. `text` '' is "not understood, say it again", and `why` gives the reason.
 * Rejects with a sentence when the worker broke: the next call starts a new one. `pcm` is handed over and gone.
 */
export async function hear(pcm: Float32Array<ArrayBuffer>, rate: number, screen: Screen, engine_type: EngineType | null, own: OwnWord[]): Promise<Heard> {
  const reply = await send({ id: next++, subject: { screen, engine_type, own }, pcm, rate }, [pcm.buffer])
  if (!('heard' in reply)) throw new Error(say('speech.out_of_turn'))
  return reply.heard
}

/** Closes the worker with all its memory. */
export function rest(why = say('speech.switched_off')): void {
  clearTimeout(idle)
  worker?.terminate()
  worker = null
  for (const { reject } of open.values()) reject(new Error(why))
  open.clear()
}

function begin(): Worker {
  const opened = new Worker(new URL(`speech/${WORKER}`, location.href), { type: 'module' })
  opened.onmessage = ({ data }: MessageEvent<WorkerReply>) => {
    const pending = open.get(data.id)
    open.delete(data.id)
    if ('fault' in data) {
      pending?.reject(new Error(data.fault))
      // What broke once is not trusted again.
      rest(data.fault)
    } else pending?.resolve(data)
  }
  opened.onerror = (event) => {
    event.preventDefault()
    rest(say('speech.stopped'))
  }
  return opened
}

async function send(request: WorkerRequest, transfer: Transferable[]): Promise<WorkerReply> {
  if (!usable.value) throw new Error(say('speech.no_parts_settings'))
  clearTimeout(idle)
  let late: ReturnType<typeof setTimeout> | undefined
  try {
    return await new Promise<WorkerReply>((resolve, reject) => {
      late = setTimeout(() => rest(say('speech.took_too_long')), PATIENCE_MS)
      open.set(request.id, { resolve, reject })
      worker ??= begin()
      worker.postMessage(request, transfer)
    })
  } finally {
    clearTimeout(late)
    if (!open.size) idle = setTimeout(rest, IDLE_MS)
  }
}
