// The page's voice to the worker beside it. Where there is none, the same work is done in the page.
import type { Asked, Told } from './darkroom_worker.ts'
import { shrink, type Shrunk } from './shrink.ts'

let worker: Worker | null | undefined
let next = 1
const open = new Map<number, { resolve: (told: Told) => void; reject: (fault: Error) => void }>()

/** The worker could not do it. */
class Broken extends Error {}

/** Opens the worker. At the start, because after an update of the app in another tab its file would be gone. */
export function openDarkroom(): void {
  if (worker !== undefined || typeof Worker === 'undefined') return
  worker = new Worker(new URL('./darkroom_worker.ts', import.meta.url), { type: 'module' })
  worker.addEventListener('message', ({ data }: MessageEvent<Told>) => {
    const asked = open.get(data.id)
    open.delete(data.id)
    if ('fault' in data) asked?.reject(new Broken(data.fault))
    else asked?.resolve(data)
  })
  worker.addEventListener('error', () => {
    worker = null
    for (const { reject } of open.values()) reject(new Broken('the worker stopped'))
    open.clear()
  })
}

function ask(asked: Asked, transfer: Transferable[]): Promise<Told> {
  return new Promise((resolve, reject) => {
    open.set(asked.id, { resolve, reject })
    worker?.postMessage(asked, transfer)
  })
}

/** The bytes of a file. Rejects as the file itself does when its source is gone. */
export async function copy(file: File): Promise<ArrayBuffer> {
  openDarkroom()
  if (worker) {
    const told = await ask({ id: next++, copy: file }, []).catch(() => null)
    if (told && 'bytes' in told) return told.bytes
  }
  return file.arrayBuffer()
}

/** Shrinks a picture; its bytes are handed over and gone. Null when the worker broke and took them with it. */
export async function shrinkBeside(bytes: ArrayBuffer): Promise<Shrunk | null> {
  openDarkroom()
  if (!worker) return shrink(new Blob([bytes]))
  const told = await ask({ id: next++, shrink: bytes }, [bytes]).catch(() => null)
  return told && 'shrunk' in told ? told.shrunk : null
}
