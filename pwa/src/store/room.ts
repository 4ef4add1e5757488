// How much room is left, and what may be deleted when it runs out. Evidence that only this phone holds is never deleted.
import { signal } from '@preact/signals'
import { announceChange } from './changes.ts'
import { getSetting, withDb } from './db.ts'
import { say } from './say.ts'

export interface Room {
  used: number
  quota: number
  persisted: boolean
  /** True under 500 MB left or over 80 % used. */
  tight: boolean
  words: string
}

export const roomRule = () =>
  say('room.rule')

const TIGHT_LEFT = 500_000_000
const TIGHT_SHARE = 0.8

export const room = signal<Room>({ used: 0, quota: 0, persisted: false, tight: false, words: '' })

/** Reads the browser's figures again. They are its estimate: a full disk can come sooner. */
export async function refreshRoom(): Promise<void> {
  const manager = typeof navigator === 'undefined' ? undefined : navigator.storage
  const estimate: StorageEstimate = (await manager?.estimate?.().catch(() => null)) ?? {}
  const { usage = 0, quota = 0 } = estimate
  const persisted = (await manager?.persisted?.().catch(() => false)) ?? false
  const left = Math.max(0, quota - usage)
  const tight = quota > 0 && (left < TIGHT_LEFT || usage > quota * TIGHT_SHARE)
  room.value = { used: usage, quota, persisted, tight, words: roomWords(quota, size(left), persisted) }
}

function roomWords(quota: number, left: string, persisted: boolean): string {
  if (quota === 0) return say('room.unknown')
  return persisted ? say('room.left', { size: left }) : say('room.left_not_persistent', { size: left })
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

/** Deletes originals by the rule above, all that it allows. Their facts, hashes and previews stay. */
export async function freeOriginals(): Promise<{ freed: number; bytes: number }> {
  const durable = (await getSetting<number>('durable_size')) ?? 0
  const result = await withDb(async (db) => {
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
  if (result.freed) await announceChange()
  await refreshRoom()
  return result
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
