import { beforeEach, expect, test } from 'vitest'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { addSound, beginSound, engineTypes, ownWords, record, spokenOf } from './index.ts'
import { claimed, confirmTranscript, correct, find, keepLeftover, measure, signedIn, withdraw } from '../capture/index.ts'
import { keepPage } from './feeds.ts'
import { refreshKnown } from './known.ts'
import type { Entry, Row } from './types.ts'

beforeEach(async () => {
  await joinedPhone()
  engineTypes.value = new Map()
})

const MEASURED = {
  ...{ procedure: '', edition: 0, reading: '', state: 'as_found', quantity: 'diameter', value: '89.03', unit: 'mm', gauge: '', gauge_id: '' },
  ...{ part_temperature: '', gauge_temperature: '', material: '', remark: '' },
}
const HEARD = { heard: 'bore three eighty nine point oh three mm', heard_by: 'closed grammar' }
const TO = { mode: 'measure', screen: 'measure', procedure: '', reading: '' } as const
const DESK = '0197dddd-0000-7000-8000-000000000001'

/** A sound that was spoken to the screen of a reading, as the phone keeps it. */
async function aSound(id: string): Promise<Row> {
  const author = signedIn.value!.id
  const facts = { id, where: WHERE, author, caption: '', type: 'audio/webm', started: claimed(), chunks: 0, duration_ms: 900, to: TO }
  await beginSound(facts)
  await addSound(facts, 0, new Uint8Array([1, 2, 3]).buffer)
  const saved = await keepLeftover(id)
  return (await record(saved.id))!
}

let position = 100

/** An entry that the office wrote, received by the workshop's or the job's feed. */
async function fromTheOffice(kind: string, job: string | null, body: Record<string, unknown>): Promise<void> {
  const id = `0197eeee-0000-7000-8000-${String(++position).padStart(12, '0')}`
  const clock = { boot: '00c0ffee', monotonic_ms: 1, offset_ms: null, offset_age_s: null, zone: 'UTC' }
  const entry = { author: DESK, body, claimed: claimed(), clock, device: DESK, id, job, kind, location: null, media: [] } as unknown as Entry
  Object.assign(entry, { previous: '0'.repeat(64), sequence: position, stage: null, version: 1, workshop: DESK })
  const bytes = new TextEncoder().encode(JSON.stringify(entry))
  const sealed = { entry, bytes, hash: 'ab'.repeat(32), signature: '' }
  await keepPage([{ sealed, position, received: claimed() }], { feed: job ? `job:${job}` : 'workshop', epoch: 'e', low: 1, high: position, done: true })
}

const transcript = (sound: Row, text: string) => {
  const result = { engine: 'sphinx_ngram', version: '5.1.1', model: 'en-us', model_sha256: '11'.repeat(32), sort: 'closed', denoised: true, vocabulary: '22'.repeat(32), text, confidence: 80, words: [] }
  const body = { entry: sound.id, entry_hash: sound.hash, duration_ms: 900, results: [result], outcome: 'agree', text, engine: 'sphinx_ngram' }
  return fromTheOffice('transcript_made', sound.job, body)
}

test('what was spoken and accepted names its sound, and the sound says what was recorded from it', async () => {
  const sound = await aSound('rec-1')
  const { id } = await measure(WHERE, MEASURED, { spoken: sound.id, ...HEARD })
  expect((await record(id))!.entry.body).toMatchObject({ spoken: sound.id, ...HEARD })
  expect(sound.entry.body).toMatchObject(TO)
  const note = await spokenOf(sound.id)
  expect(note).toMatchObject({ state: 'waiting', text: '', by: '' })
  expect(note!.records).toEqual([{ id, said: 'Bore 3, top, thrust: diameter 89.03 mm' }])
  expect(await spokenOf(id)).toBeNull()
  expect(await spokenOf('rec-1')).toBeNull()
})

test('what was heard is cut to what a record may hold, and never stops it from being saved', async () => {
  const sound = await aSound('rec-1')
  const { id } = await find(WHERE, { observation: 'Scored.', condition: ['scored'], opinion: '' }, { spoken: sound.id, heard: 'bore '.repeat(90), heard_by: 'x'.repeat(150) })
  const { heard, heard_by } = (await record(id))!.entry.body as Record<string, string>
  expect([heard!.length, heard_by!.length]).toEqual([300, 120])
})

test('a text is a machine\'s until somebody has listened, and again when that is withdrawn', async () => {
  const sound = await aSound('rec-1')
  const { id } = await measure(WHERE, MEASURED, { spoken: sound.id, ...HEARD })
  await transcript(sound, 'bore three eighty nine point oh eight mm')
  expect(await spokenOf(sound.id)).toMatchObject({ by: 'machine', records: [{ id }] })
  const saved = await confirmTranscript(sound, 'Bore three, eighty nine point oh three.')
  expect(await spokenOf(sound.id)).toMatchObject({ state: 'confirmed', by: 'person', confirmed: { id: saved.id, author: signedIn.value!.id } })
  await withdraw({ ...saved, job: WHERE.job }, 'wrong sound')
  expect(await spokenOf(sound.id)).toMatchObject({ by: 'machine', confirmed: null })
})

test('a record that was said to be of another sound is told with that one', async () => {
  const [first, other] = [await aSound('rec-1'), await aSound('rec-2')]
  const { id, hash } = await measure(WHERE, MEASURED, { spoken: first.id, ...HEARD })
  await correct({ id, hash, job: WHERE.job }, { reason: 'of the second recording', changes: { spoken: other.id }, location: null })
  expect((await spokenOf(first.id))!.records).toEqual([])
  expect((await spokenOf(other.id))!.records.map((record) => record.id)).toEqual([id])
})

test('the words of the workshop are known by the word, the newest counts', async () => {
  const word = { word: 'Petrel', sounds_like: ['pet rel'], means: '', retired: false }
  await fromTheOffice('spoken_word_set', null, word)
  await fromTheOffice('spoken_word_set', null, { ...word, word: 'knuckle', means: 'part:gudgeon_pin' })
  await fromTheOffice('spoken_word_set', null, { ...word, word: 'petrel', sounds_like: ['petral'] })
  await refreshKnown()
  expect(ownWords.value.map((ownWord) => [ownWord.word, ownWord.sounds_like])).toEqual([['petrel', ['petral']], ['knuckle', ['pet rel']]])
  await fromTheOffice('spoken_word_set', null, { ...word, retired: true })
  await refreshKnown()
  expect(ownWords.value.map((ownWord) => ownWord.word)).toEqual(['knuckle'])
})
