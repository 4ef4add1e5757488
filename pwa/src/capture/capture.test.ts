import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { pbkdf2Sync } from 'node:crypto'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { addSound, beginSound, keepPeople, record, soundsLeft, waiting, withDb } from '../store/index.ts'
import { claimed } from './clock.ts'
import { dimensions } from './dimensions.ts'
import { judge } from './judge.ts'
import { beforeCamera, correct, keepLeftover, leftovers, note, pendingCapture, signedIn, signIn, signOut, stayAt, takePhoto, where, WrongPin } from './index.ts'
import { aPicture } from '../../support/phone.ts'
import { resumeWhere } from './where.ts'
import { resumeSignedIn } from './who.ts'

const salt = Buffer.from('sixteen bytes ok')
const PIN = { salt: salt.toString('base64'), iterations: 1000, hash: pbkdf2Sync('471105', salt, 1000, 32, 'sha256').toString('base64') }
const IDA = { id: '0197aaaa-0000-7000-8000-0000000000a2', name: 'Ida', role: 'manager', active: true, pin: PIN }

beforeEach(async () => void (await joinedPhone()))
afterEach(() => vi.useRealTimers())

test('a person signs in with the PIN made by the office, without any network', async () => {
  await keepPeople([IDA])
  globalThis.fetch = vi.fn()
  await expect(signIn(IDA.id, '471205')).rejects.toBeInstanceOf(WrongPin)
  expect((await signIn(IDA.id, '471105')).name).toBe('Ida')
  signedIn.value = null
  await resumeSignedIn()
  expect(signedIn.value).toMatchObject({ name: 'Ida' })
  expect(fetch).not.toHaveBeenCalled()
})

test('after five wrong PINs the phone makes one wait, even for the right one', async () => {
  await keepPeople([IDA])
  for (let i = 0; i < 5; i++) await expect(signIn(IDA.id, '000000')).rejects.toThrow('Wrong PIN')
  await expect(signIn(IDA.id, '471105')).rejects.toThrow('Wait')
  vi.setSystemTime(Date.now() + 31_000)
  expect((await signIn(IDA.id, '471105')).name).toBe('Ida')
})

test('a manager’s PIN from before managers had six digits signs nothing, and says where the new one comes from', async () => {
  const short = { ...PIN, hash: pbkdf2Sync('4711', salt, 1000, 32, 'sha256').toString('base64') }
  await keepPeople([{ ...IDA, pin: short }, { ...IDA, id: 'x', name: 'Tomas', role: 'technician', pin: short }])
  await expect(signIn(IDA.id, '4711')).rejects.toThrow('A manager’s PIN has at least 6 digits. If yours is shorter, the office sets a new one under People.')
  expect((await signIn('x', '4711')).name).toBe('Tomas')
})

test('whoever has left the workshop cannot sign in, and a person without a PIN is told where it comes from', async () => {
  await keepPeople([{ ...IDA, active: false }, { ...IDA, id: 'x', name: 'Tomas', pin: null }])
  await expect(signIn(IDA.id, '471105')).rejects.toThrow('no longer in the workshop')
  await expect(signIn('x', '4711')).rejects.toThrow('The office sets it under People')
})

test('signing out and another person signing in leave every record waiting under its own author', async () => {
  const first = await note(WHERE, 'by Tomas')
  await keepPeople([IDA])
  await signOut()
  await signIn(IDA.id, '471105')
  const second = await note(WHERE, 'by Ida')
  await vi.waitFor(() => expect(waiting.value.records).toBe(2))
  expect((await record(second.id))?.entry.author).toBe(IDA.id)
  expect((await record(first.id))?.entry.author).not.toBe(IDA.id)
})

test('a page killed with the camera open leads back to the same place, until a picture came', async () => {
  await stayAt(WHERE)
  await beforeCamera(WHERE)
  where.value = null
  await resumeWhere()
  expect(where.value).toEqual(WHERE)
  expect(await pendingCapture()).toMatchObject(WHERE)
  await takePhoto(WHERE, aPicture(), 'camera')
  expect(await pendingCapture()).toBeNull()
})

test('a recording that was cut off is joined from the seconds that were kept, and says that it was', async () => {
  const author = signedIn.value?.id as string
  const facts = { id: 'rec-1', where: WHERE, author, caption: '', type: 'audio/webm;codecs=opus', started: claimed(), chunks: 0, duration_ms: 0 }
  await beginSound(facts)
  for (let n = 0; n < 3; n++) await addSound({ ...facts, duration_ms: (n + 1) * 1000 }, n, new Uint8Array([n, n]).buffer)
  await signOut()
  expect((await leftovers()).map((sound) => sound.id)).toEqual(['rec-1'])
  const saved = await keepLeftover('rec-1')
  const entry = (await record(saved.id))?.entry
  expect(entry?.body).toEqual({ mode: 'note', screen: 'none', procedure: '', reading: '', method: 'live', duration_ms: 3000, interrupted: true, caption: '' })
  expect(entry?.author).toBe(author)
  expect(entry?.media[0]).toMatchObject({ length: 6, role: 'audio', type: 'audio/webm' })
  expect(await soundsLeft()).toEqual([])
  expect(await withDb((db) => db.count('sound'))).toBe(0)
})

test('a recording without its beginning cannot be played and is not passed off as one', async () => {
  const facts = { id: 'rec-2', where: WHERE, author: 'x', caption: '', type: 'audio/webm', started: claimed(), chunks: 0, duration_ms: 0 }
  await addSound(facts, 1, new Uint8Array([1]).buffer)
  await expect(keepLeftover('rec-2')).rejects.toThrow('before anything was heard')
})

test('the claimed time carries milliseconds and the offset of the device, and names the same moment', () => {
  const at = new Date(Date.UTC(2026, 4, 14, 9, 38, 7, 120))
  expect(claimed(at)).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.120[+-]\d\d:\d\d$/)
  expect(Date.parse(claimed(at))).toBe(at.getTime())
  // RFC 3339's own form for an offset east and west of Greenwich.
  vi.spyOn(Date.prototype, 'getTimezoneOffset').mockReturnValueOnce(-60).mockReturnValueOnce(210)
  expect(claimed(at)).toBe('2026-05-14T10:38:07.120+01:00')
  expect(claimed(at)).toBe('2026-05-14T06:08:07.120-03:30')
})

const png = (width: number, height: number) => {
  const view = new DataView(new ArrayBuffer(24))
  view.setUint32(0, 0x89504e47)
  view.setUint32(16, width)
  view.setUint32(20, height)
  return view.buffer
}

test('width and height are read from the header, and a damaged or foreign file has none', async () => {
  expect(dimensions(await aPicture().arrayBuffer())).toEqual({ width: 4000, height: 3000 })
  expect(dimensions(png(640, 480))).toEqual({ width: 640, height: 480 })
  expect(dimensions(new Uint8Array([0xff, 0xd8, 0xff]).buffer)).toBeNull()
  expect(dimensions(new TextEncoder().encode('%PDF-1.7 not a picture').buffer)).toBeNull()
  expect(dimensions(new ArrayBuffer(0))).toBeNull()
})

function pixels(paint: (x: number, y: number) => number) {
  const data = new Uint8ClampedArray(64 * 64 * 4)
  for (let y = 0; y < 64; y++) for (let x = 0; x < 64; x++) data.fill(paint(x, y), 4 * (64 * y + x), 4 * (64 * y + x) + 3)
  return { data, width: 64, height: 64 }
}

test('hard edges count as sharp, slow ones as blurred, flat colour as no picture, and light is judged by its mean', () => {
  expect(judge(pixels((x) => (x % 8 < 4 ? 40 : 200)))).toMatchObject({ blurred: false, exposure: 'ok', uniform: false })
  expect(judge(pixels((x) => 100 + x))).toMatchObject({ blurred: true, uniform: false })
  expect(judge(pixels((x) => (x % 8 < 4 ? 0 : 30)))).toMatchObject({ exposure: 'dark' })
  expect(judge(pixels((x) => (x % 8 < 4 ? 255 : 230)))).toMatchObject({ exposure: 'bright' })
  expect(judge(pixels(() => 0)).uniform).toBe(true)
})

test('a note too long for the record is refused at once, in words, and uses up no number', async () => {
  await keepPeople([IDA])
  await signIn(IDA.id, '471105')
  await expect(note(WHERE, 'x'.repeat(8001))).rejects.toThrow('Not saved.')
  expect(waiting.value.records).toBe(0)
  expect((await note(WHERE, 'Crankpin 2 blued.')).sequence).toBe(1)
})

test('a record longer than the server accepts is refused with its length, and takes no number from the next', async () => {
  const first = await note(WHERE, 'Scored')
  const row = { id: first.id, hash: first.hash, job: WHERE.job }
  const words = Object.fromEntries(['a', 'b', 'c', 'd', 'e'].map((field) => [field, 'ж'.repeat(8_000)]))
  const long = correct(row, { reason: 'Put right', changes: words, location: null })
  await expect(long).rejects.toThrow(/The record has 80,\d+ bytes; at most 65,536 are accepted\. Shorten the text, or make two records of it\. Not saved\./)
  expect((await note(WHERE, 'Dry')).sequence).toBe(first.sequence + 1)
})
