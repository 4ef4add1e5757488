import { beforeEach, expect, test, vi } from 'vitest'
import { aPicture, joinedPhone, WHERE } from '../../support/phone.ts'
import type { SmallServer } from '../../support/server.ts'
import { note, takePhoto } from '../capture/index.ts'
import { backFromShelf, phone, record, shelf, waiting, withDb } from '../store/index.ts'
import { sendNow } from './loop.ts'
import { alarm, status, why } from './status.ts'

let server: SmallServer

beforeEach(async () => void (server = await joinedPhone()))

const onServer = () => server.log.map((row) => row.sequence)

test('records arrive in their order and leave the outbox with a receipt that names position and hash', async () => {
  const saved = [await note(WHERE, 'one'), await note(WHERE, 'two'), await note(WHERE, 'three')]
  await sendNow()
  expect(onServer()).toEqual([1, 2, 3])
  expect(waiting.value.records).toBe(0)
  expect(await record(saved[1]?.id as string)).toMatchObject({ state: 'received', position: 2 })
  expect(await withDb((db) => db.get('receipts', saved[1]?.id as string))).toMatchObject({ hash: saved[1]?.hash, position: 2, epoch: 'first' })
  expect(status.value.words).toMatch(/^All sent, server last reached \d\d:\d\d$/)
})

test('when the answer is lost on the way, the records are sent again and are there once', async () => {
  await note(WHERE, 'one')
  await note(WHERE, 'two')
  let lost = 0
  server.fault = (path) => (path === '/api/sync/push' && lost++ === 0 ? 'lose the answer' : undefined)
  await sendNow()
  expect(onServer()).toEqual([1, 2])
  expect(waiting.value.records).toBe(2)
  expect(why.value).toContain('No signal')
  await sendNow()
  expect(onServer()).toEqual([1, 2])
  expect(waiting.value.records).toBe(0)
})

const page = '<html><body>Welcome to the guest network. Please accept our terms.</body></html>'
const json = { 'Content-Type': 'application/json' }
const LIES: [string, (server: SmallServer) => Response][] = [
  ['a sign-in page with status 200', () => new Response(page, { status: 200, headers: { 'Content-Type': 'text/html' } })],
  ['an empty JSON object', () => new Response('{}', { status: 200, headers: json })],
  ['an empty JSON object with our headers', (s) => new Response('{}', { status: 200, headers: { ...json, ...s.headers() } })],
  ['no content', () => new Response(null, { status: 204 })],
  ['no content with our headers', (s) => new Response(null, { status: 204, headers: s.headers() })],
  ['JSON that was cut short', (s) => new Response('{"results":[{"id":"', { status: 200, headers: { ...json, ...s.headers() } })],
  ['receipts of another workshop’s server', (s) => new Response('{"results":[]}', { status: 200, headers: { ...json, ...s.headers(), 'Witnessmark-Server': 'ff' } })],
  ['a page instead of a refusal', (s) => new Response(page, { status: 413, headers: { ...s.headers(), 'Content-Type': 'text/html' } })],
]

test.each(LIES)('%s settles nothing', async (_, lie) => {
  await takePhoto(WHERE, aPicture(), 'camera')
  await note(WHERE, 'two')
  const before = await withDb((db) => db.getAll('outbox'))
  server.fault = (path) => (path === '/api/sync/push' ? lie(server) : undefined)
  await sendNow()
  expect(await withDb((db) => db.getAll('outbox'))).toEqual(before)
  expect(await shelf()).toEqual([])
  expect(why.value).toMatch(/does not lead to our server|Another workshop/)
  server.fault = () => undefined
  await sendNow()
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })
})

test('a network that answers every address with its own page is told apart from no signal', async () => {
  await note(WHERE, 'one')
  server.fault = () => new Response(page, { status: 200, headers: { 'Content-Type': 'text/html' } })
  await sendNow()
  expect(why.value).toContain('This network does not lead to our server')
  await vi.waitFor(() => expect(status.value.words).toContain('1 on this phone'))
})

test('redirects are not followed, nothing is cached, and the session of the office is not lent', async () => {
  const seen: RequestInit[] = []
  server.fault = (_path, init) => void seen.push(init)
  await note(WHERE, 'one')
  await sendNow()
  for (const init of seen) expect(init).toMatchObject({ redirect: 'error', cache: 'no-store', credentials: 'omit' })
})

test('a receipt with another hash than the record’s takes nothing out of the outbox', async () => {
  await note(WHERE, 'one')
  server.fault = async (path, init) => {
    if (path !== '/api/sync/push') return undefined
    const sent = (JSON.parse(String(init.body)) as { entries: { bytes: string }[] }).entries
    const { id } = JSON.parse(sent[0]?.bytes as string) as { id: string }
    const stamp = JSON.stringify({ entry: 'f'.repeat(64), position: 1 })
    const result = { id, hash: 'f'.repeat(64), result: 'stored', code: '', message: '', position: 1, received: 'now', stamp }
    return server.json({ results: [result], head: await server.head(), last_sequence: 1 })
  }
  await sendNow()
  expect(waiting.value.records).toBe(1)
})

test('one record that the workshop refuses goes to the shelf with the reason; the nine others arrive', async () => {
  for (let i = 1; i <= 10; i++) await note(WHERE, i === 4 ? 'poison' : `note ${i}`)
  server.rule = (entry) => ((entry.body as { text: string }).text === 'poison' ? { code: 'unknown_place', message: 'The engine has no place bore/9.' } : undefined)
  await sendNow()
  expect(server.log.filter((row) => row.kind === 'note_made')).toHaveLength(9)
  expect(waiting.value).toMatchObject({ records: 0, attention: 1 })
  const [left] = await shelf()
  expect(left).toMatchObject({ code: 'unknown_place', message: 'The engine has no place bore/9.', settled: true })
  expect(await record(left?.id as string)).toMatchObject({ state: 'attention' })
})

test('a record whose bytes rotted on the phone is declared lost, stays on the shelf, and blocks no later one', async () => {
  for (let i = 1; i <= 3; i++) await note(WHERE, i === 2 ? 'rotten' : `note ${i}`)
  server.rule = (entry) => ((entry.body as { text: string }).text === 'rotten' ? { code: 'signature', message: 'The signature does not fit.' } : undefined)
  await sendNow()
  expect(server.log.filter((row) => row.kind === 'note_made').map((row) => row.sequence)).toEqual([1, 3])
  expect(waiting.value).toMatchObject({ records: 0, attention: 1 })
})

test('from the shelf a record can be offered again when the reason has gone', async () => {
  const saved = await note(WHERE, 'early')
  server.rule = () => ({ code: 'signature', message: 'not now' })
  server.fault = (path, init) => (path === '/api/sync/push' && String(init.body).includes('"lost":[{') ? 'drop' : undefined)
  await sendNow()
  expect((await shelf())[0]?.settled).toBe(false)
  server.rule = () => undefined
  server.fault = () => undefined
  expect(await backFromShelf(`entry:${saved.id}`)).toBe(true)
  await sendNow()
  expect(await shelf()).toEqual([])
  expect(await record(saved.id)).toMatchObject({ state: 'received' })
})

test.each([401, 403])('%i pauses and keeps: five records go under their own author once the pass is good again', async (code) => {
  for (let i = 1; i <= 5; i++) await note(WHERE, `note ${i}`)
  server.fault = () => server.json({ code: 'not_signed_in', message: 'This pass is not known here.', where: '' }, code)
  await sendNow()
  await sendNow()
  expect(waiting.value.records).toBe(5)
  expect(why.value).not.toBe('')
  await note(WHERE, 'recording goes on meanwhile')
  server.fault = () => undefined
  await sendNow()
  expect(waiting.value.records).toBe(0)
  for (const row of server.log) expect(JSON.parse(row.bytes)).toMatchObject({ author: server.people[0]?.id })
})

test('a phone that was shut out is told so in words and keeps everything', async () => {
  await note(WHERE, 'one')
  server.fault = async (path) => {
    if (path !== '/api/sync/state') return undefined
    const device = { ...server.device, last_sequence: 0, last_hash: '', revoked: true }
    return server.json({ workshop: server.workshop, device, people: [], head: await server.head(), size: 0, chunk_bytes: 1024, durable_size: 0, build: '' })
  }
  await sendNow()
  expect(why.value).toContain('blocked this phone')
  expect(waiting.value.records).toBe(1)
})

test('a batch that is too large for some proxy on the way is halved until it passes', async () => {
  for (let i = 0; i < 9; i++) await note(WHERE, `note ${i}`)
  const sizes: number[] = []
  server.fault = (path, init) => {
    if (path !== '/api/sync/push') return undefined
    const count = (JSON.parse(String(init.body)) as { entries: unknown[] }).entries.length
    sizes.push(count)
    return count > 2 ? server.json({ code: 'too_large', message: 'Send less at once.', where: '' }, 413) : undefined
  }
  await sendNow()
  expect(server.log).toHaveLength(9)
  expect(sizes.slice(0, 3)).toEqual([9, 4, 2])
})

test.each([
  ['quotes, each of which takes four bytes on the wire', '"'.repeat(8000)],
  ['commas, each of which looks like another value', ','.repeat(8000)],
])('no request is longer or fuller than the server takes, whatever the records hold: %s', async (_, text) => {
  for (let i = 0; i < 135; i++) await note(WHERE, text)
  const sent: string[] = []
  server.fault = (path, init) => void (path === '/api/sync/push' && sent.push(String(init.body)))
  await sendNow()
  expect(server.log).toHaveLength(135)
  for (const body of sent) {
    expect(new TextEncoder().encode(body).length).toBeLessThan(2.1e6)
    expect(body.split(/[,[{]/).length).toBeLessThan(110_000)
  }
})

test('the phone’s clock is measured and said, and changes no record', async () => {
  server.fault = async (path) => {
    if (path !== '/api/sync/state') return undefined
    const time = new Date(Date.now() - 180_000).toISOString()
    const device = { ...server.device, last_sequence: 0, last_hash: '', revoked: false }
    return server.json({ time, workshop: server.workshop, device, people: server.people, head: await server.head(), size: 0, chunk_bytes: 1024, durable_size: 0, build: '' })
  }
  await sendNow()
  expect(status.value.clock).toContain('3 min fast')
  const saved = await note(WHERE, 'with a measured clock')
  const clock = (await record(saved.id))?.entry.clock
  expect(clock?.offset_ms).toBeGreaterThan(-181_000)
  expect(clock?.offset_ms).toBeLessThan(-179_000)
  expect(Math.abs(Date.parse((await record(saved.id))?.entry.claimed as string) - Date.now())).toBeLessThan(5000)
})

test('two calls at once make one run, and the second is not forgotten', async () => {
  await note(WHERE, 'one')
  const first = sendNow()
  await note(WHERE, 'two')
  await Promise.all([first, sendNow()])
  expect(waiting.value.records).toBe(0)
  expect(new Set(onServer())).toEqual(new Set([1, 2]))
})

test('joining tells a server that does not own the key it shows', async () => {
  phone.value = null
  const { join } = await import('./join.ts')
  server.fault = (path) => (path === '/api/sync/join' ? server.json({ server: 'ab'.repeat(16), server_key: server.spki, workshop: server.workshop, device: server.device, token: 't', people: [] }, 201) : undefined)
  await expect(join('K7M4-QX2P', 'Bench phone')).rejects.toThrow('does not own the key')
  expect(phone.value).toBeNull()
  expect(alarm.value).toBe('')
  vi.restoreAllMocks()
})
