// Records of others: a page and its cursor are written together, so a kill between them is impossible.
import { sha256Hex } from '../trade/ground/canonical.ts'
import { announceChange } from './changes.ts'
import { getSetting, putSetting, withDb } from './db.ts'
import { decidesJobFacts, deriveJob, jobStores } from './jobs.ts'
import { rowOf } from './rows.ts'
import type { Cursor, Device, HeadSeen, Sealed } from './types.ts'

export interface Pulled {
  sealed: Sealed
  position: number
  received: string
}

/** Keeps a checked page and moves the feed's cursor in one transaction. This phone's own records keep waiting for their receipts. */
export async function keepPage(page: Pulled[], cursor: Cursor): Promise<number> {
  const added = await withDb(async (db) => {
    const tx = db.transaction(['entries', 'jobs', 'devices', 'cursors'], 'readwrite')
    const jobs = new Set<string>()
    let count = 0
    for (const { sealed, position, received } of page) {
      const { entry } = sealed
      const before = await tx.objectStore('entries').get(entry.id)
      if (before?.mine) continue
      await tx.objectStore('entries').put(rowOf(sealed, false, position, received))
      if (!before) count++
      if (entry.job && decidesJobFacts(entry.kind)) jobs.add(entry.job)
      if (entry.kind === 'workshop_founded')
        await tx.objectStore('devices').put({ id: entry.device, name: 'desk', letter: '', public_key: String(entry.body.server_key), revoked: false })
      if (entry.kind === 'device_enrolled') {
        const { device, name, letter, public_key } = entry.body as Record<string, string>
        await tx.objectStore('devices').put({ id: device, name, letter, public_key, revoked: false } as Device)
      }
      if (entry.kind === 'device_revoked') {
        const device = await tx.objectStore('devices').get(String(entry.body.device))
        if (device) await tx.objectStore('devices').put({ ...device, revoked: true })
      }
    }
    for (const id of jobs) await deriveJob(jobStores(tx), id)
    await tx.objectStore('cursors').put(cursor)
    await tx.done
    return count
  })
  await announceChange()
  return added
}

export async function cursorOf(feed: string, epoch: string): Promise<Cursor> {
  const row = await withDb((db) => db.get('cursors', feed))
  // Positions of an earlier epoch mean nothing in this one: the feed is walked again, and rows already here are simply met again.
  return row && row.epoch === epoch ? row : { feed, epoch, low: null, high: 0, done: false }
}

/**
 * What this phone holds of a job up to a position: how many records, and the SHA-256 over their hashes in order.
 * Null while a record of its own still waits for its place there.
 */
export async function digestOf(job: string, upto: number): Promise<{ count: number; digest: string } | null> {
  const rows = await withDb((db) => db.getAllFromIndex('entries', 'job_at', IDBKeyRange.bound([job, -1], [job, Number.MAX_VALUE])))
  if (rows.some((row) => row.position === null)) return null
  const hashes = rows.filter((row) => (row.position as number) <= upto).map((row) => row.hash)
  return { count: hashes.length, digest: await sha256Hex(new TextEncoder().encode(hashes.join(''))) }
}

/** Forgets how far a feed is here, so that it is walked again from its beginning. The records stay. */
export async function forgetCursor(feed: string): Promise<void> {
  await withDb((db) => db.delete('cursors', feed))
}

export async function deviceKey(id: string): Promise<Device | null> {
  return (await withDb((db) => db.get('devices', id))) ?? null
}

export async function keepDevice(device: Device): Promise<void> {
  await withDb((db) => db.put('devices', device))
}

export async function deviceNames(): Promise<Map<string, Device>> {
  return new Map((await withDb((db) => db.getAll('devices'))).map((device) => [device.id, device]))
}

export async function headSeen(epoch: string): Promise<HeadSeen | null> {
  return (await withDb((db) => db.get('heads', epoch))) ?? null
}

/** The last head that was believed, whatever epoch it is of; `epoch` finds it in a store from before this was kept. */
export async function lastHead(epoch: string): Promise<HeadSeen | null> {
  return (await getSetting<HeadSeen>('head')) ?? (await headSeen(epoch))
}

/** Keeps a head that was checked: the next one is measured by it. */
export async function keepHead(head: HeadSeen): Promise<void> {
  await withDb((db) => db.put('heads', head))
  await putSetting('head', head)
}

/** Keeps a head that is not believed, as evidence. */
export async function keepOddHead(head: HeadSeen, seen: HeadSeen): Promise<void> {
  await withDb((db) => db.put('heads', { ...head, epoch: `${head.epoch}/${seen.size}` }))
}

export async function chosenJobs(): Promise<string[]> {
  return withDb(async (db) => (await db.getAll('jobs')).filter((job) => job.chosen).map((job) => job.id))
}

/** Pictures in others' records of a job, newest first, whose small or large preview is not on this phone yet. */
export async function previewsMissing(job: string, size: 'small' | 'large', limit: number): Promise<string[]> {
  return withDb(async (db) => {
    const missing: string[] = []
    const range = IDBKeyRange.bound([job, -1], [job, Number.MAX_VALUE])
    const rows = (await db.getAllFromIndex('entries', 'job_at', range)).reverse()
    for (const row of rows) {
      if (missing.length >= limit) break
      if (row.mine || row.position === null) continue
      for (const item of row.entry.media) {
        if (item.role !== 'original' || !item.type.startsWith('image/')) continue
        const preview = await db.get('previews', item.sha256)
        if (!preview?.[size] && !preview?.failed) missing.push(item.sha256)
      }
    }
    return missing
  })
}
