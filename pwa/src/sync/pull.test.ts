import { beforeEach, expect, test, vi } from 'vitest'
import { aPicture, joinedPhone, WHERE } from '../../support/phone.ts'
import { keyPair, sign, type SmallServer } from '../../support/server.ts'
import { note, openJob, takePhoto } from '../capture/index.ts'
import { chooseJob, cursorOf, jobs, timeline, waiting, withDb } from '../store/index.ts'
import { refreshJobs } from '../store/jobs.ts'
import { canonical } from '../trade/ground/canonical.ts'
import { uuid7 } from '../trade/ground/uuid7.ts'
import { sendNow } from './loop.ts'
import { alarm } from './status.ts'

let server: SmallServer
let other: { device: string; key: CryptoKey; sequence: number }

const OPENED = { number: '24-119', vehicle: 'Delivery van', registration: '', engine_type: uuid7(), engine_number: '', distance: '', distance_unit: '', complaint: '', received_as: '', earlier_job: '' }

/** A record of another phone, in the server's log. */
async function theirs(kind: string, job: string | null, body: object, by = other.device, key = other.key): Promise<void> {
  const clock = { boot: '00000000', monotonic_ms: 0, offset_ms: null, offset_age_s: null, zone: 'UTC' }
  const rest = { claimed: '2026-05-14T10:38:07.120+01:00', clock, location: null, media: [], previous: '0'.repeat(64), stage: null, version: 1 }
  const entry = { ...rest, author: server.people[0]?.id, body, device: by, id: uuid7(), job, kind, sequence: ++other.sequence, workshop: server.workshop.id }
  const bytes = canonical(entry)
  await server.append({ bytes, signature: await sign(key, bytes) }, entry)
}

beforeEach(async () => {
  server = await joinedPhone()
  const { pair, spki } = await keyPair()
  const desk = { device: uuid7(), key: (server as unknown as { key: CryptoKey }).key }
  other = { device: uuid7(), key: pair.privateKey, sequence: 0 }
  await theirs('workshop_founded', null, { name: server.workshop.name, server_key: server.spki }, desk.device, desk.key)
  await theirs('device_enrolled', null, { device: other.device, name: 'Pit phone', letter: 'B', public_key: spki }, desk.device, desk.key)
})

test('a job opened on another phone is in the list, and once chosen its whole record is here', async () => {
  await theirs('job_opened', WHERE.job, OPENED)
  for (let i = 0; i < 5; i++) await theirs('note_made', WHERE.job, { text: `note ${i}` })
  await sendNow()
  await refreshJobs()
  expect(jobs.value.map((job) => job.number)).toEqual(['24-119'])
  expect(await timeline(WHERE.job)).toHaveLength(1)
  await chooseJob(WHERE.job, true)
  await sendNow()
  expect((await timeline(WHERE.job)).map((row) => row.entry.body.text ?? row.kind)).toEqual(['note 4', 'note 3', 'note 2', 'note 1', 'note 0', 'job_opened'])
})

test('a long record comes newest first, in pages, and what is new meanwhile is not passed over', async () => {
  await theirs('job_opened', WHERE.job, OPENED)
  for (let i = 0; i < 600; i++) await theirs('note_made', WHERE.job, { text: `note ${i}` })
  await sendNow()
  await chooseJob(WHERE.job, true)
  let pages = 0
  server.fault = async (path) => {
    if (path.includes('feed=job') && path.includes('before') && ++pages === 1) await theirs('note_made', WHERE.job, { text: 'while fetching' })
    return pages > 1 && path.includes('before') ? new Response('', { status: 200 }) : undefined
  }
  await sendNow()
  // The connection broke after the first page: the newest are here, the oldest are not.
  const first = await timeline(WHERE.job, { limit: 1000 })
  expect(first.length).toBeGreaterThanOrEqual(500)
  expect(first.length).toBeLessThan(602)
  server.fault = () => undefined
  await sendNow()
  const texts = (await timeline(WHERE.job, { limit: 1000 })).map((row) => row.entry.body.text ?? row.kind)
  expect(texts).toHaveLength(602)
  expect(texts[0]).toBe('while fetching')
  expect(await cursorOf(`job:${WHERE.job}`, 'first')).toMatchObject({ low: 3, high: 604, done: true })
})

test('a page and its cursor are written together or not at all', async () => {
  await theirs('job_opened', WHERE.job, OPENED)
  const put = IDBObjectStore.prototype.put
  const broken = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore, value: unknown, key?: IDBValidKey) {
    const request = put.call(this, value, key)
    if (this.name === 'cursors') request.addEventListener('success', () => this.transaction.abort())
    return request
  })
  await sendNow()
  broken.mockRestore()
  expect(await withDb((db) => db.count('entries'))).toBe(0)
  expect((await cursorOf('workshop', 'first')).high).toBe(0)
  await sendNow()
  expect(await withDb((db) => db.count('entries'))).toBe(3)
  expect((await cursorOf('workshop', 'first')).high).toBe(3)
})

test('a record that was altered on the server is not kept, and loud words say so', async () => {
  await theirs('job_opened', WHERE.job, OPENED)
  const row = server.log.at(-1) as { bytes: string }
  row.bytes = row.bytes.replace('Delivery van', 'Delivery Van')
  await sendNow()
  expect(alarm.value).toContain('its signature does not match')
  expect(await withDb((db) => db.count('entries'))).toBe(0)
})

test('a record that does not add up raises the alarm, and what is recorded here is sent all the same', async () => {
  await theirs('job_opened', WHERE.job, OPENED)
  const row = server.log.at(-1) as { bytes: string }
  row.bytes = row.bytes.replace('Delivery van', 'Delivery Van')
  await takePhoto(WHERE, aPicture('bore.jpg', 5000), 'camera')
  await sendNow()
  expect(alarm.value).toContain('its signature does not match')
  expect(waiting.value).toMatchObject({ records: 0, pictures: 0 })
})

test('a record of a phone that never joined is not kept', async () => {
  const { pair } = await keyPair()
  await theirs('job_opened', WHERE.job, OPENED, uuid7(), pair.privateKey)
  await sendNow()
  expect(await withDb((db) => db.count('entries'))).toBe(0)
  expect(await withDb((db) => db.get('jobs', WHERE.job))).toBeUndefined()
})

test('a desk that signs with another key than the one this phone met when joining is not believed', async () => {
  const { pair, spki } = await keyPair()
  server.log = []
  await theirs('workshop_founded', null, { name: 'Another', server_key: spki }, uuid7(), pair.privateKey)
  await sendNow()
  expect(await withDb((db) => db.count('entries'))).toBe(0)
})

test('this phone’s own records come back from the feed without losing their receipts or doubling', async () => {
  const { job } = await openJob({ ...OPENED, distance_unit: '' })
  await note({ job, place: '', point: '' }, 'mine')
  await chooseJob(job, true)
  await sendNow()
  await sendNow()
  const rows = await timeline(job)
  expect(rows.map((row) => [row.entry.body.text ?? row.kind, row.mine, row.state])).toEqual([
    ['mine', true, 'received'],
    ['job_opened', true, 'received'],
  ])
})

test('a record that is missing here is noticed by count and hash, and fetched', async () => {
  const job = uuid7()
  await theirs('job_opened', job, OPENED)
  await theirs('note_made', job, { text: 'passed over' })
  await sendNow()
  await chooseJob(job, true)
  const digests: string[] = []
  server.fault = (path) => void (path.includes('/digest') && digests.push(path))
  // What a lost page would leave: the cursor beyond a record that is not here.
  await withDb((db) => db.put('cursors', { feed: `job:${job}`, epoch: 'first', low: 3, high: 4, done: true }))
  await sendNow()
  expect(await timeline(job)).toHaveLength(1)
  await sendNow()
  expect((await timeline(job))[0]?.entry.body.text).toBe('passed over')
  expect(digests).toHaveLength(2)
  await sendNow()
  expect(digests).toHaveLength(2)
  expect(alarm.value).toBe('')
})
