// What still has to reach the server. Only a receipt that names a record and its hash takes it out; a refusal moves it to the shelf.
import { announceChange } from './changes.ts'
import { withDb } from './db.ts'
import { decidesJobFacts, deriveJob, jobStores } from './jobs.ts'
import type { EntryRow, OutboxRow, OutboxSort, Receipt, ShelfRow } from './types.ts'
import { WAITING_AT } from './types.ts'

/** The next records in their running order, up to the first that was not read back yet: the chain is sent without holes. */
export async function nextEntries(limit: number): Promise<EntryRow[]> {
  return withDb(async (db) => {
    const rows = await db.getAllFromIndex('outbox', 'sort_order', every('entry'), limit)
    const end = rows.findIndex((row) => row.ready === 0)
    const entries = await Promise.all(rows.slice(0, end < 0 ? limit : end).map((row) => db.get('entries', row.id)))
    return entries.filter((row) => row !== undefined)
  })
}

/** Previews or originals to send, oldest first. An original waits until its record has a receipt. */
export async function nextMedia(sort: 'preview' | 'media', limit: number): Promise<OutboxRow[]> {
  return withDb(async (db) => {
    const rows = (await db.getAllFromIndex('outbox', 'sort_order', every(sort))).filter((row) => row.ready === 1)
    const ready: OutboxRow[] = []
    for (const row of rows) {
      if (ready.length >= limit) break
      const facts = await db.get('originals', row.id)
      if (facts && (await db.getKey('receipts', facts.entry))) ready.push(row)
    }
    return ready
  })
}

export interface Settled {
  receipts: Receipt[]
  refused: { id: string; code: string; message: string; settled: boolean }[]
}

/** Writes the server's answers down in one transaction. A receipt whose hash is not ours counts for nothing. */
export async function settleEntries({ receipts, refused }: Settled): Promise<number> {
  const counted = await withDb(async (db) => {
    const tx = db.transaction(['entries', 'jobs', 'outbox', 'receipts', 'shelf'], 'readwrite')
    const jobs = new Set<string>()
    let count = 0
    for (const receipt of receipts) {
      const row = await tx.objectStore('entries').get(receipt.id)
      if (!row || row.hash !== receipt.hash) continue
      const { position, received } = receipt
      await tx.objectStore('entries').put({ ...row, position, received, at: position })
      await tx.objectStore('receipts').put(receipt)
      await tx.objectStore('outbox').delete(`entry:${row.id}`)
      await tx.objectStore('shelf').delete(`entry:${row.id}`)
      if (row.job && decidesJobFacts(row.kind)) jobs.add(row.job)
      count++
    }
    for (const { id, code, message, settled } of refused) {
      const key = `entry:${id}`
      if (!(await tx.objectStore('entries').getKey(id))) continue
      const since = (await tx.objectStore('shelf').get(key))?.since ?? new Date().toISOString()
      await tx.objectStore('shelf').put({ key, sort: 'entry', id, code, message, since, settled })
      await tx.objectStore('outbox').delete(key)
    }
    for (const id of jobs) await deriveJob(jobStores(tx), id)
    await tx.done
    return count
  })
  await announceChange()
  return counted
}

/** The server confirmed that it holds this original: its bytes may leave the outbox, not yet the phone. */
export async function settleMedia(sha256: string, epoch: string): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['originals', 'outbox', 'shelf'], 'readwrite')
    const facts = await tx.objectStore('originals').get(sha256)
    if (facts) await tx.objectStore('originals').put({ ...facts, here: epoch })
    for (const name of ['outbox', 'shelf'] as const) await tx.objectStore(name).delete(`media:${sha256}`)
    await tx.done
  })
  await announceChange()
}

/** A preview is derived: once sent, or refused, it is simply done. */
export async function settlePreview(sha256: string): Promise<void> {
  await withDb((db) => db.delete('outbox', `preview:${sha256}`))
}

/** Puts an original that the server refuses on the shelf; its bytes stay. */
export async function shelveMedia(sha256: string, code: string, message: string): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['outbox', 'shelf'], 'readwrite')
    const key = `media:${sha256}`
    await tx.objectStore('shelf').put({ key, sort: 'media', id: sha256, code, message, since: new Date().toISOString(), settled: false })
    await tx.objectStore('outbox').delete(key)
    await tx.done
  })
  await announceChange()
}

export async function shelf(): Promise<ShelfRow[]> {
  return withDb((db) => db.getAll('shelf'))
}

/** Back into the outbox, as it was. A record that the server has settled as refused stays refused: it has to be made again. */
export async function backFromShelf(key: string): Promise<boolean> {
  const moved = await withDb(async (db) => {
    const tx = db.transaction(['outbox', 'shelf', 'entries', 'originals'], 'readwrite')
    const row = await tx.objectStore('shelf').get(key)
    if (!row || row.settled) return tx.done.then(() => false)
    const order = (await tx.objectStore('entries').get(row.id))?.sequence ?? 0
    const role = (await tx.objectStore('originals').get(row.id))?.role ?? ''
    await tx.objectStore('outbox').put({ key, schema: 1, sort: row.sort, id: row.id, role, order, ready: 1 })
    await tx.objectStore('shelf').delete(key)
    return tx.done.then(() => true)
  })
  await announceChange()
  return moved
}

/** Running numbers on the shelf with which the server's chain does not go on: they are declared lost when the next are sent. */
export async function unsettledNumbers(): Promise<number[]> {
  return withDb(async (db) => {
    const rows = (await db.getAll('shelf')).filter((row) => row.sort === 'entry' && !row.settled)
    const entries = await Promise.all(rows.map((row) => db.get('entries', row.id)))
    return entries.flatMap((row) => (row ? [row.sequence] : [])).sort((a, b) => a - b)
  })
}

/** The server has logged a refusal for these numbers: nothing more is to be sent for them. */
export async function settleLost(sequences: number[]): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['shelf', 'entries'], 'readwrite')
    for (const row of await tx.objectStore('shelf').getAll()) {
      const entry = row.sort === 'entry' ? await tx.objectStore('entries').get(row.id) : undefined
      if (entry && sequences.includes(entry.sequence)) await tx.objectStore('shelf').put({ ...row, settled: true })
    }
    await tx.done
  })
}

/** The highest running number with a receipt, and this device's entry hash at `sequence`. */
export async function ownChainAt(device: string, sequence: number): Promise<{ receipted: number; hash: string | null }> {
  return withDb(async (db) => {
    const at = await db.getFromIndex('entries', 'chain', [device, sequence])
    const tx = db.transaction('entries')
    let receipted = 0
    for (let c = await tx.store.index('chain').openCursor(IDBKeyRange.bound([device, 0], [device, WAITING_AT]), 'prev'); c; c = await c.continue())
      if (c.value.position !== null) {
        receipted = c.value.sequence
        break
      }
    return { receipted, hash: at?.hash ?? null }
  })
}

/**
 * Offers again what a restored server has lost: every own record after `sequence` and every original not in `here`.
 * Returns how many went back into the outbox, and the originals whose bytes were freed from this phone.
 */
export async function offerAgain(device: string, sequence: number, here: Set<string> | null): Promise<{ again: number; freed: string[] }> {
  const offered = await withDb(async (db) => {
    const tx = db.transaction(['entries', 'outbox', 'receipts', 'originals', 'jobs', 'shelf'], 'readwrite')
    const outbox = tx.objectStore('outbox')
    const freed: string[] = []
    const jobs = new Set<string>()
    let again = 0
    const range = IDBKeyRange.bound([device, sequence + 1], [device, WAITING_AT])
    for (const row of await tx.objectStore('entries').index('chain').getAll(range)) {
      const key = `entry:${row.id}`
      // A refusal may have been lost together with the rest: the record is offered again, and the refusal comes back.
      await tx.objectStore('shelf').delete(key)
      await tx.objectStore('entries').put({ ...row, position: null, received: null, at: WAITING_AT + row.sequence })
      await tx.objectStore('receipts').delete(row.id)
      if (await outbox.getKey(key)) continue
      await outbox.put({ key, schema: 1, sort: 'entry', id: row.id, role: '', order: row.sequence, ready: 1 })
      if (row.job && decidesJobFacts(row.kind)) jobs.add(row.job)
      again++
    }
    for (const facts of here ? await tx.objectStore('originals').getAll() : []) {
      if (!facts.here || here?.has(facts.sha256)) continue
      if (facts.chunks === 0) {
        freed.push(facts.sha256)
        continue
      }
      const order = (await tx.objectStore('entries').get(facts.entry))?.sequence ?? 0
      await tx.objectStore('originals').put({ ...facts, here: null })
      const row = { key: `media:${facts.sha256}`, schema: 1, sort: 'media', id: facts.sha256, role: facts.role, order } as const
      await outbox.put({ ...row, ready: 1 })
      again++
    }
    for (const id of jobs) await deriveJob(jobStores(tx), id)
    await tx.done
    return { again, freed }
  })
  await announceChange()
  return offered
}

/** Every original of this phone that a server has confirmed. */
export async function confirmedMedia(): Promise<string[]> {
  return withDb(async (db) => (await db.getAll('originals')).filter((facts) => facts.here).map((facts) => facts.sha256))
}

const every = (sort: OutboxSort) => IDBKeyRange.bound([sort, -1], [sort, Number.MAX_VALUE])
