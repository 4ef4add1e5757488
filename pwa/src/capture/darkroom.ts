// Main-thread client of the picture worker. Where there is no worker, the same work is done in the page.
import type { Job, Outcome } from './darkroom_worker.ts'
import { shrink, type Shrunk } from './shrink.ts'

let worker: Worker | null | undefined
let next = 1
const open = new Map<number, { resolve: (outcome: Outcome) => void; reject: (fault: Error) => void }>()

/** The worker could not do it. */
class Broken extends Error {}

/** Opens the worker. At the start, because after an update of the app in another tab its file would be gone. */
export function openDarkroom(): void {
  if (worker !== undefined || typeof Worker === 'undefined') return
  worker = new Worker(new URL('./darkroom_worker.ts', import.meta.url), { type: 'module' })
  worker.addEventListener('message', ({ data }: MessageEvent<Outcome>) => {
    const pending = open.get(data.id)
    open.delete(data.id)
    if ('fault' in data) pending?.reject(new Broken(data.fault))
    else pending?.resolve(data)
  })
  worker.addEventListener('error', () => {
    worker = null
    for (const { reject } of open.values()) reject(new Broken('worker_stopped'))
    open.clear()
  })
}

function send(job: Job, transfer: Transferable[]): Promise<Outcome> {
  return new Promise((resolve, reject) => {
    open.set(job.id, { resolve, reject })
    worker?.postMessage(job, transfer)
  })
}

/** The bytes of a file. Rejects as the file itself does when its source is gone. */
export async function copy(file: File): Promise<ArrayBuffer> {
  openDarkroom()
  if (worker) {
    const copied = await send({ id: next++, copy: file }, []).catch(() => null)
    if (copied && 'bytes' in copied) return copied.bytes
  }
  return file.arrayBuffer()
}

/** Shrinks a picture; its bytes are handed over and gone. Null when the worker broke and took them with it. */
export async function shrinkBeside(bytes: ArrayBuffer): Promise<Shrunk | null> {
  openDarkroom()
  if (!worker) return shrink(new Blob([bytes]))
  const outcome = await send({ id: next++, shrink: bytes }, [bytes]).catch(() => null)
  return outcome && 'shrunk' in outcome ? outcome.shrunk : null
}
