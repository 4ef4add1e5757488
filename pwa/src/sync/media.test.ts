import { beforeEach, expect, test, vi } from 'vitest'
import { aPicture, joinedPhone, WHERE } from '../../support/phone.ts'
import type { SmallServer } from '../../support/server.ts'
import { note, takePhoto } from '../capture/index.ts'
import { freeOriginals, mediaFacts, originalOf, previewRow, putPreview, record, shelf, waiting, withDb } from '../store/index.ts'
import { sha256Hex } from '../trade/ground/canonical.ts'
import { sendNow } from './loop.ts'
import { why } from './status.ts'

let server: SmallServer

beforeEach(async () => void (server = await joinedPhone()))

const order = () => server.asked.map((line) => line.replace(/^\w+ \/api\//, '').replace(/[0-9a-f]{64}.*/, '…'))

test('records go first, previews next, originals last; the original is whole, and only then off the list', async () => {
  const file = aPicture('bore.jpg', 5000)
  const saved = await takePhoto(WHERE, file, 'camera')
  await saved.hints
  await putPreview(saved.media[0] as string, { large: new Uint8Array([1, 2, 3]).buffer }, true)
  await sendNow()
  const kept = server.media.get(saved.media[0] as string) as Uint8Array
  expect(await sha256Hex(kept as BufferSource)).toBe(saved.media[0])
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })
  const steps = order()
  expect(steps.indexOf('sync/push')).toBeLessThan(steps.findIndex((step) => step.startsWith('media/…')))
  expect(server.asked.findIndex((line) => line.endsWith('/preview'))).toBeLessThan(server.asked.findIndex((line) => line.includes('uploads')))
  expect(server.asked.filter((line) => line.startsWith('PATCH'))).toHaveLength(5)
})

test.each([
  ['a fault of the server', () => new Response('{}', { status: 500 })],
  ['a foreign page', () => new Response('<html>', { status: 200, headers: { 'Content-Type': 'text/html' } })],
  ['no answer', () => 'drop' as const],
])('a pull that fails, %s, says so and keeps neither record nor original on the phone', async (_what, fault) => {
  await takePhoto(WHERE, aPicture('bore.jpg', 5000), 'camera')
  server.fault = (path) => (path.startsWith('/api/sync/pull') ? fault() : undefined)
  await sendNow()
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })
  expect(why.value).not.toBe('')
  server.fault = () => undefined
  await sendNow()
  expect(why.value).toBe('')
})

test('a preview that the server cannot store keeps no original on the phone', async () => {
  const saved = await takePhoto(WHERE, aPicture('bore.jpg', 5000), 'camera')
  await saved.hints
  await putPreview(saved.media[0] as string, { large: new Uint8Array([1, 2, 3]).buffer }, true)
  server.fault = (path, { method }) => (method === 'PUT' && path.endsWith('/preview') ? new Response('{}', { status: 500 }) : undefined)
  await sendNow()
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })
  expect(why.value).not.toBe('')
})

test('a preview that is made while the original is being sent leaves in the same run', async () => {
  const saved = await takePhoto(WHERE, aPicture('bore.jpg', 5000), 'camera')
  await saved.hints
  const sha256 = saved.media[0] as string
  server.fault = async (_path, { method }) => {
    if (method === 'PATCH' && !(await previewRow(sha256))?.large) await putPreview(sha256, { large: new Uint8Array([1, 2, 3]).buffer }, true)
    return undefined
  }
  await sendNow()
  expect(server.previews.has(sha256)).toBe(true)
})

test('an upload that broke off goes on where the server stands, not from the start', async () => {
  await takePhoto(WHERE, aPicture('bore.jpg', 5000), 'camera')
  let patches = 0
  server.fault = (_path, init) => (init.method === 'PATCH' && ++patches === 3 ? 'lose the answer' : undefined)
  await sendNow()
  expect(waiting.value.pictures).toBe(1)
  server.fault = () => undefined
  server.asked = []
  await sendNow()
  expect(server.asked.filter((line) => line.startsWith('PATCH'))).toHaveLength(2)
  expect(waiting.value.pictures).toBe(0)
})

test('a server that lost the half it had is sent the whole again', async () => {
  const saved = await takePhoto(WHERE, aPicture('bore.jpg', 5000), 'camera')
  let patches = 0
  server.fault = (_path, init) => {
    if (init.method === 'PATCH' && ++patches === 3) server.partial.clear()
    return undefined
  }
  await sendNow()
  expect(server.media.has(saved.media[0] as string)).toBe(true)
  expect(waiting.value.pictures).toBe(0)
})

test('a proxy that takes only small pieces is given small pieces', async () => {
  await takePhoto(WHERE, aPicture('bore.jpg', 300_000), 'camera')
  server.largestChunk = 100_000
  server.fault = async (path) => {
    if (path !== '/api/sync/state') return undefined
    const device = { ...server.device, last_sequence: 0, last_hash: '', revoked: false }
    return server.json({ workshop: server.workshop, device, people: server.people, head: await server.head(), size: 0, chunk_bytes: 1 << 20, durable_size: 0, build: '' })
  }
  await sendNow()
  expect(waiting.value.pictures).toBe(0)
})

test('as long as the server does not say that the whole is here, the picture waits', async () => {
  await takePhoto(WHERE, aPicture(), 'camera')
  server.fault = (path) => (path === '/api/media/have' ? server.json({ here: [] }) : undefined)
  await sendNow()
  expect(waiting.value.pictures).toBe(1)
  server.fault = () => undefined
  await sendNow()
  expect(waiting.value.pictures).toBe(0)
})

test('a full server stops the sending and keeps the picture on the phone', async () => {
  await takePhoto(WHERE, aPicture(), 'camera')
  server.fault = (_path, init) => (init.method === 'PATCH' ? server.json({ code: 'disk_full', message: 'The server’s disk is full.', where: '' }, 507) : undefined)
  await sendNow()
  expect(why.value).toContain('disk is full')
  expect(waiting.value.pictures).toBe(1)
  expect(await shelf()).toEqual([])
})

test('a file that the server will not have goes to the shelf, its bytes stay, and the next one is sent', async () => {
  const first = await takePhoto(WHERE, aPicture('one.jpg'), 'camera')
  await takePhoto(WHERE, aPicture('two.jpg'), 'camera')
  server.fault = (path, init) =>
    init.method === 'POST' && path === '/api/media/uploads' && atob(new Headers(init.headers).get('Upload-Metadata')?.split(/[ ,]/)[1] ?? '') === first.media[0]
      ? server.json({ code: 'too_long', message: 'The file is too long.', where: '' }, 422)
      : undefined
  await sendNow()
  expect(waiting.value).toMatchObject({ pictures: 0, attention: 1 })
  expect(await originalOf(first.media[0] as string)).not.toBeNull()
  expect(server.media.size).toBe(1)
})

test('an original is freed only when it and its record are confirmed and a backup holds them', async () => {
  const saved = await takePhoto(WHERE, aPicture(), 'camera')
  const sha = saved.media[0] as string
  expect(await freeOriginals()).toMatchObject({ freed: 0 })
  await sendNow()
  expect(await freeOriginals()).toMatchObject({ freed: 0 })
  server.durable = 1
  await sendNow()
  expect(await freeOriginals()).toEqual({ freed: 1, bytes: 5000 })
  expect(await originalOf(sha)).toBeNull()
  expect(await mediaFacts(sha)).toMatchObject({ chunks: 0, length: 5000 })
  expect((await record(saved.id))?.entry.media[0]?.sha256).toBe(sha)
})

test('after a restore from an older backup everything it lacks goes again by itself', async () => {
  const kept = await takePhoto(WHERE, aPicture('one.jpg'), 'camera')
  await note(WHERE, 'two')
  await sendNow()
  const backup = { log: [...server.log], media: new Map(server.media) }
  const lost = await takePhoto(WHERE, aPicture('three.jpg'), 'camera')
  await note(WHERE, 'four')
  await sendNow()
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })

  server.log = backup.log
  server.media = backup.media
  server.epoch = 'second'
  await sendNow()
  expect(server.log.map((row) => row.sequence)).toEqual([1, 2, 3, 4])
  expect([...server.media.keys()].sort()).toEqual([kept.media[0], lost.media[0]].sort())
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })
  expect(await record(lost.id)).toMatchObject({ state: 'received', position: 3 })
})

test('a picture that the phone’s storage damaged after saving goes to the shelf and blocks no other', async () => {
  const damaged = await takePhoto(WHERE, aPicture('one.jpg'), 'camera')
  const sound = await takePhoto(WHERE, aPicture('two.jpg'), 'camera')
  await withDb(async (db) => {
    const chunk = await db.get('media', [damaged.media[0] as string, 0])
    const bytes = new Uint8Array(chunk?.bytes as ArrayBuffer)
    bytes[3000] = (bytes[3000] as number) ^ 1
    await db.put('media', { sha256: damaged.media[0] as string, n: 0, bytes: bytes.buffer })
  })
  await sendNow()
  expect((await shelf()).map((row) => [row.id, row.code])).toEqual([[damaged.media[0], 'bytes_differ']])
  expect([...server.media.keys()]).toEqual(sound.media)
})

test('when room is short, originals are freed by the rule without being asked, and none besides', async () => {
  vi.stubGlobal('navigator', { storage: { estimate: async () => ({ usage: 9e9, quota: 10e9 }) } })
  const held = await takePhoto(WHERE, aPicture('one.jpg'), 'camera')
  server.durable = 1
  await sendNow()
  expect(await originalOf(held.media[0] as string)).toBeNull()
  const later = await takePhoto(WHERE, aPicture('two.jpg'), 'camera')
  await sendNow()
  expect(await originalOf(later.media[0] as string)).not.toBeNull()
  vi.unstubAllGlobals()
})
