// How much room is left, and what may be freed when it runs out. Evidence that only this phone holds is never freed.
import { signal } from '@preact/signals'
import { tellAll } from './changes.ts'
import { getSetting, withDb } from './db.ts'

export interface Room {
  used: number
  quota: number
  persisted: boolean
  /** True under 500 MB left or over 80 % used. */
  tight: boolean
  words: string
}

export const ROOM_RULE =
  'A picture in full is freed from this phone only when the server has confirmed it and its record, and a backup of the server ' +
  'holds them too; and only when the phone runs out of room or you ask for it. The small picture always stays.'

const TIGHT_LEFT = 500_000_000
const TIGHT_SHARE = 0.8

export const room = signal<Room>({ used: 0, quota: 0, persisted: false, tight: false, words: '' })

/** Asks the browser anew. The figures are the browser's estimate: a full disk can come sooner. */
export async function refreshRoom(): Promise<void> {
  const manager = typeof navigator === 'undefined' ? undefined : navigator.storage
  const told: StorageEstimate = (await manager?.estimate?.().catch(() => null)) ?? {}
  const { usage = 0, quota = 0 } = told
  const persisted = (await manager?.persisted?.().catch(() => false)) ?? false
  const left = Math.max(0, quota - usage)
  const tight = quota > 0 && (left < TIGHT_LEFT || usage > quota * TIGHT_SHARE)
  const kept = persisted ? '' : ' The browser has not promised to keep it: send often.'
  const words = quota === 0 ? 'This browser does not say how much room is left.' : `Room for about ${size(left)} on this phone.${kept}`
  room.value = { used: usage, quota, persisted, tight, words }
}

/** Asks the browser never to clear this app's records by itself. False when it does not promise it. */
export async function keepForGood(): Promise<boolean> {
  const granted = await (navigator.storage?.persist?.() ?? Promise.resolve(false)).catch(() => false)
  await refreshRoom()
  return granted
}

export function size(bytes: number): string {
  if (bytes >= 1e9) return `${(bytes / 1e9).toFixed(1)} GB`
  if (bytes >= 1e6) return `${Math.round(bytes / 1e6)} MB`
  return `${Math.max(1, Math.round(bytes / 1e3))} kB`
}

/** Frees originals by the rule above, all that it allows. Their facts, hashes and previews stay. */
export async function freeOriginals(): Promise<{ freed: number; bytes: number }> {
  const durable = (await getSetting<number>('durable_size')) ?? 0
  const told = await withDb(async (db) => {
    const tx = db.transaction(['originals', 'media', 'receipts', 'outbox'], 'readwrite')
    let freed = 0
    let bytes = 0
    for (const facts of await tx.objectStore('originals').getAll()) {
      if (facts.chunks === 0 || !facts.here) continue
      const receipt = await tx.objectStore('receipts').get(facts.entry)
      if (!receipt || receipt.position > durable) continue
      if (await tx.objectStore('outbox').get(`media:${facts.sha256}`)) continue
      await tx.objectStore('media').delete(IDBKeyRange.bound([facts.sha256, 0], [facts.sha256, Number.MAX_SAFE_INTEGER]))
      await tx.objectStore('originals').put({ ...facts, chunks: 0, freed: new Date().toISOString() })
      freed++
      bytes += facts.length
    }
    await tx.done
    return { freed, bytes }
  })
  if (told.freed) await tellAll()
  await refreshRoom()
  return told
}

/** Under pressure: first the large previews of others' pictures, which the server can give again, then originals by the rule. */
export async function makeRoom(): Promise<boolean> {
  const dropped = await withDb(async (db) => {
    const tx = db.transaction(['previews', 'originals'], 'readwrite')
    let count = 0
    for (const sha256 of await tx.objectStore('previews').getAllKeys()) {
      if (await tx.objectStore('originals').getKey(sha256)) continue
      const row = await tx.objectStore('previews').get(sha256)
      if (!row?.large || !row.small) continue
      await tx.objectStore('previews').put({ ...row, large: null })
      count++
    }
    await tx.done
    return count
  })
  return dropped > 0 || (await freeOriginals()).freed > 0
}

export function isQuota(fault: unknown): boolean {
  return fault instanceof DOMException && (fault.name === 'QuotaExceededError' || /quota/i.test(fault.message))
}
