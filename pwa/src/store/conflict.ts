// What shows that the server's log is not what it was: two fingerprints, both signed by its key, that cannot both be of a
// log which only grows. Kept until somebody has noted them in the record; nothing else ends the alarm.
import { signal } from '@preact/signals'
import { getSetting, putSetting, withDb } from './db.ts'
import { say } from './say.ts'
import type { EntryRow, HeadSeen, Receipt } from './types.ts'

export interface Conflict {
  before: HeadSeen
  after: HeadSeen
  /** What is said of it on every screen. */
  words: string
  /** The record in which it was noted, '' until then. */
  noted: string
  /** Running numbers of this phone, once confirmed, that the later log does not hold; missing until it was asked. */
  gone?: number[]
}

const NAME = 'conflict'
/** Characters of the list of numbers that a record takes. */
const LONGEST_LIST = 1000

/** The two fingerprints that nobody has noted yet. */
export const conflict = signal<Conflict | null>(null)

export async function loadConflict(): Promise<void> {
  const kept = await getSetting<Conflict>(NAME)
  conflict.value = kept && !kept.noted ? kept : null
}

/** Keeps the first difference: what comes after it may only be a part of the same. */
export async function keepConflict(before: HeadSeen, after: HeadSeen, words: string): Promise<void> {
  if (conflict.peek()) return
  const clash: Conflict = { before, after, words, noted: '' }
  await putSetting(NAME, clash)
  conflict.value = clash
}

/** Adds to a standing difference which records of this phone the log no longer holds. */
export async function keepGone(standing: Conflict, gone: number[]): Promise<void> {
  const open = conflict.peek()
  if (!open || open.after.bytes !== standing.after.bytes) return
  const known = { ...open, gone: gone.sort((a, b) => a - b) }
  await putSetting(NAME, known)
  conflict.value = known
}

/** What is said of a standing difference on every screen, '' when there is none. */
export function conflictWords(): string {
  const open = conflict.peek()
  if (!open?.gone?.length) return open?.words ?? ''
  return `${open.words} ${say('sync.gone', { count: open.gone.length, numbers: ranges(open.gone) })}`
}

/** A record of this phone that the server has confirmed, and its receipt. */
export interface Confirmed {
  row: EntryRow
  receipt: Receipt
}

export async function ownReceipts(): Promise<Confirmed[]> {
  return withDb(async (db) => {
    const receipts = await db.getAll('receipts')
    const rows = await Promise.all(receipts.map((receipt) => db.get('entries', receipt.id)))
    return receipts.flatMap((receipt, i) => (rows[i]?.mine ? [{ row: rows[i], receipt }] : []))
  })
}

/** Ends the alarm: the record `id` holds both fingerprints. From here on the log is measured by the later one. */
export async function settleConflict(id: string): Promise<void> {
  const open = conflict.peek()
  if (!open) return
  await putSetting(NAME, { ...open, noted: id })
  await putSetting('head', open.after)
  conflict.value = null
}

/** What the record of it says. */
export function conflictBody({ before, after, gone = [] }: Conflict): Record<string, string> {
  const signed = { before: before.bytes, before_signature: before.signature, after: after.bytes, after_signature: after.signature }
  return { ...signed, gone: ranges(gone).slice(0, LONGEST_LIST) }
}

/** '17, 20 to 25' of numbers in rising order. */
export function ranges(numbers: number[]): string {
  const runs: [number, number][] = []
  for (const number of numbers) {
    const run = runs.at(-1)
    if (run && number === run[1] + 1) run[1] = number
    else runs.push([number, number])
  }
  return runs.map(([first, last]) => (first === last ? String(first) : say('sync.gone_range', { first: String(first), last: String(last) }))).join(', ')
}

/**
 * Both fingerprints as a file for somebody outside the workshop, and of each record that is gone the bytes, this phone's
 * signature, and the receipt that the server's own signature stands over; `openssl` can check the signatures.
 */
export async function conflictFile(open: Conflict): Promise<Blob> {
  const gone = new Set(open.gone)
  const lost = (await ownReceipts()).filter(({ row }) => gone.has(row.sequence))
  const records = lost.map(({ row, receipt }) => {
    const { position, received, stamp, path, head } = receipt
    const { sequence, bytes, signature } = row
    return { sequence, bytes: new TextDecoder().decode(bytes), signature, receipt: { position, received, stamp, path, head } }
  })
  return new Blob([`${JSON.stringify({ ...conflictBody(open), records }, null, 1)}\n`], { type: 'application/json' })
}
