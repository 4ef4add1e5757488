import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import vectors from '../../../tests/vectors/scans.json'
import { canonicalBytes, sha256Hex } from '../trade/ground/canonical.ts'
import { note, takePhoto } from '../capture/index.ts'
import { aPicture, emptyStore, joinedPhone, WHERE } from '../../support/phone.ts'
import { countWaiting } from './changes.ts'
import { closeDb } from './db.ts'
import { nextEntries, NotSaved, originalOf, phone, record, signBytes, waiting, withDb, type Chain, type Entry } from './index.ts'
import { sendNow } from '../sync/loop.ts'
import { checkUnready, save } from './save.ts'

beforeEach(async () => void (await joinedPhone()))
afterEach(() => vi.restoreAllMocks())

const put = IDBObjectStore.prototype.put

const counted = () => withDb(async (db) => [await db.count('entries'), await db.count('media'), await db.count('outbox')])
const chain = async () => (await withDb((db) => db.get('settings', 'chain')))?.value as Chain | undefined

test('a saved picture comes back byte for byte, after the page was closed', async () => {
  const file = aPicture('bore.jpg', 9_000_000)
  const saved = await takePhoto(WHERE, file, 'camera')
  await closeDb()
  const kept = await (await originalOf(saved.media[0] as string))?.arrayBuffer()
  expect(await sha256Hex(kept as ArrayBuffer)).toBe(await sha256Hex(await file.arrayBuffer()))
  expect(await withDb((db) => db.count('media'))).toBe(3)
})

test('a record says what the camera gave, and its bytes carry its hash and a signature of this phone', async () => {
  const saved = await takePhoto(WHERE, aPicture(), 'camera', 'thrust side')
  const row = await withDb((db) => db.get('entries', saved.id))
  expect(row?.entry.body).toMatchObject({ method: 'camera', width: 4000, height: 3000, caption: 'thrust side', file_time: '2026-05-14T09:38:07.000Z' })
  expect(row?.entry.location).toEqual({ place: 'bore/3', point: 'top, thrust' })
  expect(await sha256Hex(row?.bytes as ArrayBuffer)).toBe(saved.hash)
  expect(canonicalBytes(row?.entry)).toEqual(new Uint8Array(row?.bytes as ArrayBuffer))
  const key = (await withDb((db) => db.get('keys', 'device')))?.publicKey as string
  const spki = Uint8Array.from(atob(key), (c) => c.charCodeAt(0))
  const imported = await crypto.subtle.importKey('spki', spki, { name: 'ECDSA', namedCurve: 'P-256' }, false, ['verify'])
  const raw = Uint8Array.from(atob(row?.signature as string), (c) => c.charCodeAt(0))
  expect(await crypto.subtle.verify({ name: 'ECDSA', hash: 'SHA-256' }, imported, raw, row?.bytes as ArrayBuffer)).toBe(true)
})

test('the signing key cannot be read out of the phone', async () => {
  const kept = await withDb((db) => db.get('keys', 'device'))
  expect(kept?.privateKey.extractable).toBe(false)
  await expect(crypto.subtle.exportKey('pkcs8', kept?.privateKey as CryptoKey)).rejects.toThrow()
})

test('records of one phone form a chain, each naming the one before it', async () => {
  const first = await note(WHERE, 'Crankpin 2 blued.')
  const second = await note(WHERE, 'Oil hole dry.')
  const row = await record(second.id)
  expect([first.sequence, second.sequence]).toEqual([1, 2])
  expect(row?.entry.previous).toBe(first.hash)
  expect((await record(first.id))?.entry.previous).toBe('0'.repeat(64))
})

test('a picture that the store shortened is not saved, its number is free again and its bytes are handed back', async () => {
  await note(WHERE, 'before')
  vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore, value: { bytes?: ArrayBuffer }, key?: IDBValidKey) {
    return put.call(this, this.name === 'media' ? { ...value, bytes: value.bytes?.slice(0, 100) } : value, key)
  })
  const refused = await takePhoto(WHERE, aPicture(), 'camera').catch((fault: unknown) => fault)
  expect(refused).toBeInstanceOf(NotSaved)
  expect((refused as NotSaved).message).toContain('not saved')
  expect((refused as NotSaved).files[0]?.blob.size).toBe(5000)
  expect(await counted()).toEqual([1, 0, 1])
  expect(await countWaiting()).toMatchObject({ records: 1, pictures: 0 })
  vi.restoreAllMocks()
  expect((await takePhoto(WHERE, aPicture(), 'camera')).sequence).toBe(2)
})

test('a full phone aborts the transaction after the put succeeded: nothing is saved and nothing is counted', async () => {
  const saved = await note(WHERE, 'before')
  vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore, value: unknown, key?: IDBValidKey) {
    const request = put.call(this, value, key)
    if (this.name === 'media') {
      const tx = this.transaction as unknown as { _abort(name: string): void }
      request.addEventListener('success', () => tx._abort('QuotaExceededError'))
    }
    return request
  })
  const refused = await takePhoto(WHERE, aPicture(), 'camera').catch((fault: unknown) => fault)
  expect(refused).toBeInstanceOf(NotSaved)
  expect((refused as NotSaved).message).toContain('full')
  expect((refused as NotSaved).files[0]?.name).toBe('IMG_1.jpg')
  expect(await counted()).toEqual([1, 0, 1])
  expect(await chain()).toEqual({ sequence: 1, hash: saved.hash })
})

test('the same picture taken into two records is kept once and sent once', async () => {
  const file = aPicture()
  const first = await takePhoto(WHERE, file, 'gallery')
  const second = await takePhoto({ ...WHERE, place: 'piston/3' }, file, 'gallery')
  expect(first.media).toEqual(second.media)
  await vi.waitFor(() => expect(waiting.value).toMatchObject({ records: 2, pictures: 1 }))
})

test('records are numbered within their job, beside the running number, and name the log as this phone knows it', async () => {
  const other = { ...WHERE, job: '0197aaaa-0000-7000-8000-0000000000f2' }
  const made = [await note(WHERE, 'one'), await note(other, 'of another'), await note(WHERE, 'two'), await note(other, 'again')]
  const links = await Promise.all(made.map(async ({ id }) => (await record(id))?.entry.links))
  const zero = '0'.repeat(64)
  expect(links.map((link) => link?.job)).toEqual([
    { number: 1, previous: zero },
    { number: 1, previous: zero },
    { number: 2, previous: made[0]?.hash },
    { number: 2, previous: made[1]?.hash },
  ])
  expect(links.map((link) => link?.log)).toEqual([null, null, null, null])
  await sendNow()
  const { id } = await note(WHERE, 'three')
  const seen = await withDb((db) => db.get('heads', 'first'))
  expect((await record(id))?.entry.links).toEqual({ job: { number: 3, previous: made[2]?.hash }, log: { root: seen?.root, size: 4 } })
})

test('a number within a job that was never called saved goes to the next record', async () => {
  const first = await note(WHERE, 'one')
  const get = IDBObjectStore.prototype.get
  vi.spyOn(IDBObjectStore.prototype, 'get').mockImplementation(function (this: IDBObjectStore, key) {
    return this.name === 'entries' && this.transaction.mode === 'readonly' ? get.call(this, 'nothing') : get.call(this, key)
  })
  await expect(note(WHERE, 'not read back')).rejects.toThrow('could not be read back')
  vi.restoreAllMocks()
  const next = await note(WHERE, 'two')
  expect((await record(next.id))?.entry.links?.job).toEqual({ number: 2, previous: first.hash })
})

test('a picture’s pixels are signed beside its bytes; what is no picture that is known has none', async () => {
  const { base64, scan } = vectors.pictures[0] as { base64: string; scan: string }
  const file = new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], 'IMG_2.jpg', { type: 'image/jpeg' })
  const saved = await takePhoto(WHERE, file, 'camera')
  expect((await record(saved.id))?.entry.media[0]).toMatchObject({ name: 'IMG_2.jpg', scan_sha256: scan })
  const other = await takePhoto(WHERE, aPicture(), 'camera')
  expect((await record(other.id))?.entry.media[0]).not.toHaveProperty('scan_sha256')
})

test('an empty file from the camera is not a picture', async () => {
  const empty = new File([], 'IMG_0.jpg', { type: 'image/jpeg' })
  await expect(takePhoto(WHERE, empty, 'camera')).rejects.toThrow('IMG_0.jpg is empty')
  expect(await counted()).toEqual([0, 0, 0])
})

test('two tabs that record at the same moment never use one number twice', async () => {
  // Two copies of the room, as two tabs have: they share the store and nothing else, and here not even a lock.
  const here = phone.value
  const tabs = await Promise.all(
    [1, 2].map(async () => {
      vi.resetModules()
      return (await import('./save.ts')).save
    }),
  )
  const make = (text: string) => async (last: Chain) => {
    const entry = { body: { text }, id: crypto.randomUUID(), device: here?.device.id, job: null, kind: 'note_made', location: null, media: [], sequence: last.sequence + 1, previous: last.hash } as unknown as Entry
    const bytes = canonicalBytes(entry)
    return { entry, bytes, hash: await sha256Hex(bytes), signature: await signBytes(bytes) }
  }
  await Promise.all([0, 1, 0, 1, 0, 1].map((tab, i) => (tabs[tab] as typeof save)(make(`note ${i}`), [])))
  const rows = (await withDb((db) => db.getAll('entries'))).sort((a, b) => a.sequence - b.sequence)
  expect(rows.map((row) => row.sequence)).toEqual([1, 2, 3, 4, 5, 6])
  rows.slice(1).forEach((row, i) => expect(row.entry.previous).toBe(rows[i]?.hash))
})

test('what a crash left between writing and reading back is read back at the next start, and only then sent', async () => {
  const saved = await note(WHERE, 'just before the battery died')
  await withDb(async (db) => {
    const row = await db.get('outbox', `entry:${saved.id}`)
    if (row) await db.put('outbox', { ...row, ready: 0 })
  })
  expect(await nextEntries(10)).toEqual([])
  expect(await checkUnready()).toEqual([])
  expect((await nextEntries(10)).map((row) => row.id)).toEqual([saved.id])
})

test('a phone that has not joined, or where nobody signed in, says so and keeps the bytes', async () => {
  await emptyStore()
  const refused = await takePhoto(WHERE, aPicture(), 'camera').catch((fault: unknown) => fault)
  expect((refused as NotSaved).message).toContain('not joined')
  expect((refused as NotSaved).files).toHaveLength(1)
})
