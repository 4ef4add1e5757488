// The one door to IndexedDB: opens, reopens a lost connection once, keeps other tabs and old builds from blocking each other.
import { openDB, type DBSchema, type IDBPDatabase } from 'idb'
import { signal } from '@preact/signals'
import type * as T from './types.ts'
import { say } from './say.ts'

export const NAME = 'witnessmark'
export const VERSION = 1

export interface Schema extends DBSchema {
  entries: {
    key: string
    value: T.EntryRow
    indexes: { job_at: [string, number]; kind_at: [string, number]; job_kind: [string, string]; about: string; chain: [string, number] }
  }
  media: { key: [string, number]; value: T.MediaChunk }
  originals: { key: string; value: T.MediaFacts }
  previews: { key: string; value: T.PreviewRow }
  outbox: { key: string; value: T.OutboxRow; indexes: { sort_order: [string, number] } }
  shelf: { key: string; value: T.ShelfRow }
  receipts: { key: string; value: T.Receipt }
  jobs: { key: string; value: T.Job }
  cursors: { key: string; value: T.Cursor }
  people: { key: string; value: T.Person }
  devices: { key: string; value: T.Device }
  heads: { key: string; value: T.HeadSeen }
  drafts: { key: string; value: T.Draft }
  recordings: { key: string; value: T.SoundFacts }
  sound: { key: [string, number]; value: T.SoundChunk }
  settings: { key: string; value: { name: string; value: unknown } }
  keys: { key: string; value: { name: string; privateKey: CryptoKey; publicKey: string } }
}

export type Store = IDBPDatabase<Schema>

/** A sentence for the screen when another tab or an older page stands in the way; '' otherwise. */
export const inTheWay = signal('')

/** The database could not be used; the message says why and what to do. */
export class StoreFault extends Error {}

let handle: Promise<Store> | null = null

function open(): Promise<Store> {
  const opening = openDB<Schema>(NAME, VERSION, {
    // Steps are only ever added, one `if` a version; none rewrites media or outbox rows.
    upgrade(db, from) {
      if (from < 1) {
        const entries = db.createObjectStore('entries', { keyPath: 'id' })
        entries.createIndex('job_at', ['job', 'at'])
        entries.createIndex('kind_at', ['kind', 'at'])
        entries.createIndex('job_kind', ['job', 'kind'])
        entries.createIndex('about', 'about')
        entries.createIndex('chain', ['device', 'sequence'])
        db.createObjectStore('media', { keyPath: ['sha256', 'n'] })
        db.createObjectStore('outbox', { keyPath: 'key' }).createIndex('sort_order', ['sort', 'order'])
        db.createObjectStore('sound', { keyPath: ['id', 'n'] })
        for (const name of ['originals', 'previews'] as const) db.createObjectStore(name, { keyPath: 'sha256' })
        for (const name of ['shelf', 'drafts'] as const) db.createObjectStore(name, { keyPath: 'key' })
        for (const name of ['receipts', 'jobs', 'people', 'devices', 'recordings'] as const)
          db.createObjectStore(name, { keyPath: 'id' })
        db.createObjectStore('cursors', { keyPath: 'feed' })
        db.createObjectStore('heads', { keyPath: 'epoch' })
        for (const name of ['settings', 'keys'] as const) db.createObjectStore(name, { keyPath: 'name' })
      }
    },
    blocked: () => (inTheWay.value = say('store.other_tab')),
    blocking(_current, _next, event) {
      // A newer build wants to open the store: a running transaction still finishes after close().
      inTheWay.value = say('store.updated_elsewhere')
      ;(event.target as IDBDatabase).close()
      handle = null
    },
    terminated: () => (handle = null),
  })
  return opening.then(
    (db) => {
      db.addEventListener('close', () => (handle = null))
      return db
    },
    (fault: unknown) => {
      handle = null
      throw fault
    },
  )
}

/** Faults of the connection rather than of the work: the same work may succeed on a fresh handle. */
function isLostConnection(fault: unknown): boolean {
  if (!(fault instanceof DOMException)) return false
  return fault.name === 'InvalidStateError' || fault.name === 'UnknownError' || fault.name === 'AbortError'
}

/**
 * Runs `work` with the open database. After a lost connection the handle is dropped, opened again and the work done once more,
 * never in a loop: `work` must therefore be safe to repeat and must hold its bytes in memory until it returns.
 */
export async function withDb<R>(work: (db: Store) => Promise<R>): Promise<R> {
  const mine = (handle ??= open())
  try {
    return await work(await mine)
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'VersionError')
      throw new StoreFault(say('store.newer'))
    if (!isLostConnection(fault)) throw fault
    if (handle === mine) {
      handle = null
      await mine.then(
        (db) => db.close(),
        () => undefined,
      )
    }
    await new Promise((later) => setTimeout(later, 50))
    return await work(await (handle ??= open()))
  }
}

/**
 * All of it or nothing: `fill` makes the requests of a transaction and hands in each, and this waits for them and for its end.
 * What `fill` throws, for want of memory say, undoes the requests before it. When the transaction fails, throws why: a full
 * disk aborts the whole, and the requests still under way report no more than that they were aborted.
 */
export async function allOrNothing(tx: { done: Promise<void>; abort(): void }, fill: (requests: Promise<unknown>[]) => void): Promise<void> {
  const requests: Promise<unknown>[] = []
  try {
    fill(requests)
    await Promise.all([...requests, tx.done])
  } catch (first) {
    try {
      tx.abort()
    } catch {
      // It has ended already.
    }
    void Promise.allSettled(requests)
    const last: unknown = await tx.done.then(
      () => first,
      (fault: unknown) => fault,
    )
    throw last instanceof DOMException && last.name === 'AbortError' ? first : last
  }
}

/** Closes the handle: for tests, and before a page gives way to an update. */
export async function closeDb(): Promise<void> {
  const mine = handle
  handle = null
  if (mine) (await mine).close()
}

export async function getSetting<V>(name: string): Promise<V | null> {
  const row = await withDb((db) => db.get('settings', name))
  return row ? (row.value as V) : null
}

export async function putSetting(name: string, value: unknown): Promise<void> {
  await withDb((db) => db.put('settings', { name, value }))
}

export async function dropSetting(name: string): Promise<void> {
  await withDb((db) => db.delete('settings', name))
}
