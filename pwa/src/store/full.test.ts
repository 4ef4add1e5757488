// A phone may get full at any write: whichever it is, nothing is called saved, nothing is half there, nothing is lost.
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { aPicture, joinedPhone, WHERE } from '../../support/phone.ts'
import { note, takePhoto } from '../capture/index.ts'
import { sha256Hex } from '../trade/ground/canonical.ts'
import { NotSaved, originalOf, withDb } from './index.ts'

const STORES = ['entries', 'media', 'outbox', 'settings', 'previews', 'jobs'] as const
const write = { put: IDBObjectStore.prototype.put, add: IDBObjectStore.prototype.add }

beforeEach(async () => void (await joinedPhone()))
afterEach(() => vi.restoreAllMocks())

/** What lies in the store: how many rows, and where the chain stands. */
const held = () =>
  withDb(async (db) => [...(await Promise.all(STORES.map((store) => db.count(store)))), JSON.stringify(await db.get('settings', 'chain'))])

/** From its `first` write on the phone has no room: at the write itself, or only when all of it is to be kept. */
function fullFrom(first: number, late: boolean): () => number {
  let count = 0
  for (const name of ['put', 'add'] as const) {
    vi.spyOn(IDBObjectStore.prototype, name).mockImplementation(function (this: IDBObjectStore, value: unknown, key?: IDBValidKey) {
      const full = ++count >= first
      if (full && !late) throw new DOMException('', 'QuotaExceededError')
      const request = write[name].call(this, value, key)
      const tx = this.transaction as unknown as { _abort(name: string): void }
      if (full) request.addEventListener('success', () => tx._abort('QuotaExceededError'))
      return request
    })
  }
  return () => count
}

const RECORDS = {
  'a picture of nine megabytes': () => takePhoto(WHERE, aPicture('bore.jpg', 9_000_000), 'camera'),
  'a note': () => note(WHERE, 'Crankpin 2 blued.'),
}

test('no memory for the second piece of a picture: its record is not kept without it', async () => {
  await note(WHERE, 'before')
  const before = await held()
  const slice = ArrayBuffer.prototype.slice
  vi.spyOn(ArrayBuffer.prototype, 'slice').mockImplementation(function (this: ArrayBuffer, start?: number, end?: number) {
    if (start && this.byteLength === 9_000_000) throw new RangeError('Array buffer allocation failed')
    return slice.call(this, start ?? 0, end)
  })
  await expect(takePhoto(WHERE, aPicture('bore.jpg', 9_000_000), 'camera')).rejects.toBeInstanceOf(NotSaved)
  vi.restoreAllMocks()
  expect(await held()).toEqual(before)
})

for (const late of [false, true]) {
  test.each(Object.entries(RECORDS))(`full at any write of %s${late ? ', said only at the end' : ''}`, async (_, take) => {
    await note(WHERE, 'before')
    const before = await held()
    let first = 1
    for (; ; first++) {
      const writes = fullFrom(first, late)
      const result = await take().catch((fault: unknown) => fault)
      const made = writes()
      vi.restoreAllMocks()
      if (made < first) {
        // There was room for every write of it.
        expect(result).not.toBeInstanceOf(Error)
        break
      }
      expect(result, `write ${first}`).toBeInstanceOf(NotSaved)
      expect((result as NotSaved).message).toContain('full')
      expect(await held(), `write ${first}`).toEqual(before)
    }
    expect(first).toBeGreaterThan(3)
    const saved = await take()
    if (saved.media[0]) {
      const kept = await (await originalOf(saved.media[0]))?.arrayBuffer()
      expect(await sha256Hex(kept as ArrayBuffer)).toBe(saved.media[0])
    }
  })
}
