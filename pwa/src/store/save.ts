// THE capture transaction. 'Saved' is shown after it and by nothing else.
import { sha256Hex } from '../trade/ground/canonical.ts'
import { scanHash } from '../trade/ground/scanHash.ts'
import { Refusal } from '../trade/ground/errors.ts'
import { announceChange } from './changes.ts'
import { allOrNothing, withDb, type Store } from './db.ts'
import { decidesJobFacts, deriveJob, jobStores } from './jobs.ts'
import { serialised } from './locks.ts'
import { readMedia } from './media.ts'
import { isQuota, makeRoom } from './room.ts'
import { rowOf } from './rows.ts'
import type { Links } from '../trade/ground/entry.ts'
import type { Chain, MediaItem, Sealed } from './types.ts'
import { say } from './say.ts'

/** Chunks of an original: large enough to be few, small enough for a phone's memory. */
export const CHUNK = 4 * 1024 * 1024
export const FIRST_PREVIOUS = '0'.repeat(64)

export interface NewFile {
  name: string
  type: string
  role: MediaItem['role']
  bytes: ArrayBuffer
}

/** Nothing was counted as saved. The message is for the screen; `files` are the bytes still in memory. */
export class NotSaved extends Error {
  readonly files: { name: string; blob: Blob }[]
  constructor(message: string, files: NewFile[], cause?: unknown) {
    super(message, { cause })
    this.files = files.map(({ name, type, bytes }) => ({ name, blob: new Blob([bytes], { type }) }))
  }
}

/** Makes and signs the entry that follows `chain`, and `link` within its job; called again if another tab was faster. */
export type Make = (chain: Chain, media: MediaItem[], link: Links['job']) => Promise<Sealed>

class ReadBackFault extends Error {}

/**
 * Saves one record with its files. Resolves when it is durable and was read back; rejects with NotSaved otherwise, and then
 * neither the record nor its number was used up.
 */
export async function save(make: Make, files: NewFile[], job: string | null = null): Promise<Sealed> {
  try {
    // (1) The bytes are named by their hash before anything refers to them.
    const media = await Promise.all(files.map(name))
    // (2) One at a time in all tabs: the running number and the hash before it are read, used and written together.
    const sealed = await serialised('chain', () => saveNext(make, files, media, job))
    // The counts are read from the store beside this; nobody holds up the next picture for them.
    void announceChange().catch(() => undefined)
    return sealed
  } catch (fault) {
    throw new NotSaved(reason(fault), files, fault)
  }
}

async function name({ bytes, name, role, type }: NewFile): Promise<MediaItem> {
  const scan = type.startsWith('image/') ? await scanHash(bytes) : null
  const item = { length: bytes.byteLength, name, role, sha256: await sha256Hex(bytes), type }
  return scan ? { ...item, scan_sha256: scan } : item
}

async function saveNext(make: Make, files: NewFile[], media: MediaItem[], job: string | null): Promise<Sealed> {
  for (let attempt = 0; attempt < 5; attempt++) {
    // The chain first: whatever is written after it was read is noticed by it, and then both are read again.
    const chain = await lastOfChain()
    const sealed = await make(chain, media, job ? await nextOfJob(job) : null)
    let stored: boolean
    try {
      stored = await withDb((db) => write(db, sealed, files, media))
    } catch (fault) {
      if (!isQuota(fault) || attempt > 1 || !(await makeRoom())) throw fault
      continue
    }
    if (!stored) continue
    // (5) What was written is read again and hashed again before the screen says so.
    try {
      await withDb((db) => readBack(db, sealed, media))
    } catch (fault) {
      await withDb((db) => takeBack(db, sealed, media))
      throw fault
    }
    // (6) Only now may it be sent. The record is safe by now, so nobody waits for this; should it fail, the next start does it.
    void withDb((db) => release(db, sealed, media)).catch(() => undefined)
    return sealed
  }
  throw new Error(say('store.tab_kept_writing'))
}

export async function lastOfChain(): Promise<Chain> {
  const row = await withDb((db) => db.get('settings', 'chain'))
  return (row?.value as Chain | undefined) ?? { sequence: 0, hash: FIRST_PREVIOUS }
}

/** How far this phone's records of a job reach that are numbered within it. */
interface JobChain {
  number: number
  hash: string
}

const chainOf = (job: string) => `chain_of:${job}`

async function nextOfJob(job: string): Promise<Links['job']> {
  const row = await withDb((db) => db.get('settings', chainOf(job)))
  const last = row?.value as JobChain | undefined
  return last ? { number: last.number + 1, previous: last.hash } : { number: 1, previous: FIRST_PREVIOUS }
}

/** (3) Record, bytes, outbox and chain in ONE strict transaction. False when the chain had moved on: nothing is written. */
async function write(db: Store, sealed: Sealed, files: NewFile[], media: MediaItem[]): Promise<boolean> {
  const { entry, hash } = sealed
  const tx = db.transaction(['entries', 'media', 'originals', 'outbox', 'settings', 'jobs'], 'readwrite', { durability: 'strict' })
  const settings = tx.objectStore('settings')
  const chain = ((await settings.get('chain'))?.value as Chain | undefined) ?? { sequence: 0, hash: FIRST_PREVIOUS }
  if (chain.hash === hash) return tx.done.then(() => true) // the first try had reached the disk before its connection was lost
  if (chain.sequence !== entry.sequence - 1 || chain.hash !== entry.previous) return tx.done.then(() => false)
  const outbox = tx.objectStore('outbox')
  const before = await Promise.all(media.map((item) => tx.objectStore('originals').get(item.sha256)))
  // (4) A put that succeeded may still be lost with its transaction: only its end counts.
  await allOrNothing(tx, (puts) => {
    puts.push(tx.objectStore('entries').add(rowOf(sealed, true)))
    puts.push(settings.put({ name: 'chain', value: { sequence: entry.sequence, hash } }))
    const link = entry.links?.job
    if (link && entry.job) puts.push(settings.put({ name: chainOf(entry.job), value: { number: link.number, hash } }))
    puts.push(outbox.put({ key: `entry:${entry.id}`, schema: 1, sort: 'entry', id: entry.id, role: '', order: entry.sequence, ready: 0 }))
    files.forEach((file, i) => {
      const item = media[i] as MediaItem
      const chunks = Math.max(1, Math.ceil(item.length / CHUNK))
      for (let n = 0; n < chunks; n++) {
        const bytes = chunks === 1 ? file.bytes : file.bytes.slice(n * CHUNK, (n + 1) * CHUNK)
        puts.push(tx.objectStore('media').put({ sha256: item.sha256, n, bytes }))
      }
      // The same picture taken twice is one original: it keeps the record and the receipt it already has.
      const known = before[i] ?? { ...item, entry: entry.id, here: null }
      puts.push(tx.objectStore('originals').put({ ...known, chunks, freed: null }))
      const key = `media:${item.sha256}`
      const row = { key, schema: 1, sort: 'media', id: item.sha256, role: item.role, order: entry.sequence } as const
      if (!known.here) puts.push(outbox.put({ ...row, ready: before[i] ? 1 : 0 }))
    })
    if (entry.job && decidesJobFacts(entry.kind)) puts.push(deriveJob(jobStores(tx), entry.job))
  })
  return true
}

async function readBack(db: Store, { entry, hash }: Sealed, media: MediaItem[]): Promise<void> {
  const row = await db.get('entries', entry.id)
  if (!row || (await sha256Hex(row.bytes)) !== hash)
    throw new ReadBackFault(say('store.record_not_read_back'))
  for (const item of media) {
    const bytes = await readMedia(db, item.sha256)
    if (!bytes || bytes.byteLength !== item.length || (await sha256Hex(bytes)) !== item.sha256)
      throw new ReadBackFault(say('store.file_not_read_back', { file: item.name }))
  }
}

/** Undoes a write whose read-back failed: it was never called saved, and its number goes to the next record. */
async function takeBack(db: Store, { entry }: Sealed, media: MediaItem[]): Promise<void> {
  const tx = db.transaction(['entries', 'media', 'originals', 'outbox', 'settings', 'jobs'], 'readwrite', { durability: 'strict' })
  const chain = (await tx.objectStore('settings').get('chain'))?.value as Chain | undefined
  if (chain?.sequence === entry.sequence) {
    const value = { sequence: entry.sequence - 1, hash: entry.previous }
    await tx.objectStore('settings').put({ name: 'chain', value })
    const link = entry.links?.job
    if (link && entry.job) {
      const before = { number: link.number - 1, hash: link.previous }
      if (before.number) await tx.objectStore('settings').put({ name: chainOf(entry.job), value: before })
      else await tx.objectStore('settings').delete(chainOf(entry.job))
    }
    await tx.objectStore('entries').delete(entry.id)
    await tx.objectStore('outbox').delete(`entry:${entry.id}`)
    if (entry.kind === 'job_opened' && entry.job) await tx.objectStore('jobs').delete(entry.job)
    else if (entry.job && decidesJobFacts(entry.kind)) await deriveJob(jobStores(tx), entry.job)
  }
  for (const { sha256 } of media) {
    if ((await tx.objectStore('originals').get(sha256))?.entry !== entry.id) continue
    await tx.objectStore('media').delete(IDBKeyRange.bound([sha256, 0], [sha256, Number.MAX_SAFE_INTEGER]))
    await tx.objectStore('originals').delete(sha256)
    await tx.objectStore('outbox').delete(`media:${sha256}`)
  }
  await tx.done
}

async function release(db: Store, { entry }: Sealed, media: MediaItem[]): Promise<void> {
  const tx = db.transaction('outbox', 'readwrite')
  for (const key of [`entry:${entry.id}`, ...media.map((item) => `media:${item.sha256}`)]) {
    const row = await tx.store.get(key)
    if (row) await tx.store.put({ ...row, ready: 1 })
  }
  await tx.done
}

/** At start: what a crash left between writing and reading back is read back now, and sent if it is whole. */
export async function checkUnready(): Promise<string[]> {
  const faults: string[] = []
  await serialised('chain', async () => {
    const unready = (await withDb((db) => db.getAll('outbox'))).filter((row) => row.sort === 'entry' && row.ready === 0)
    for (const { id } of unready) {
      const row = await withDb((db) => db.get('entries', id))
      if (!row) continue
      const sealed: Sealed = { entry: row.entry, bytes: new Uint8Array(row.bytes), hash: row.hash, signature: row.signature }
      try {
        await withDb((db) => readBack(db, sealed, row.entry.media))
        await withDb((db) => release(db, sealed, row.entry.media))
      } catch (fault) {
        faults.push(fault instanceof Error ? fault.message : String(fault))
      }
    }
  })
  return faults
}

function reason(fault: unknown): string {
  if (fault instanceof ReadBackFault) return fault.message
  if (fault instanceof Refusal) return say('store.refused', { why: fault.message })
  if (isQuota(fault)) return say('store.full')
  const why = fault instanceof Error ? fault.message : String(fault)
  return say('store.did_not_store', { why })
}
