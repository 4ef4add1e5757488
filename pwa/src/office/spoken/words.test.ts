import { expect, test } from 'vitest'
import type { SpokenItem } from './shapes.ts'
import { differWords, groupOf, inOrder, progressWords } from './words.ts'
import type { Note, Questioned, Result } from '../frame/shapes.ts'
import { standingWords, wordsFor } from '../recording/words.ts'

const result = (more: Partial<Result> = {}): Result => ({
  ...{ engine: 'whisper', version: '1.2.1', model: 'tiny.en', model_sha256: 'a'.repeat(64), sort: 'free', denoised: false },
  ...{ vocabulary: 'b'.repeat(64), text: 'bore three scored', confidence: 80, words: [['bore', 0, 300, 90]] },
  ...more,
})
const note = (more: Partial<Note> = {}): Note => ({ state: 'agree', text: 'bore three scored', by: 'machine', words: [], engine: 'whisper', transcript: null, results: [result()], query: null, confirmed: null, records: [], why: '', ...more })
const query: { records: Questioned[] } = { records: [{ id: 'x', exhibit: 7, recorded: '88.49 mm', heard: '88.94 mm', parts: ['value'] }] }

test('what is to be answered comes before what waits, and both before the rest', () => {
  const states: Partial<Note>[] = [{ state: 'confirmed' }, {}, { state: 'undecodable' }, { state: 'waiting' }, { query }]
  const items = states.map((state, id) => ({ id: String(id), spoken: note(state) }) as SpokenItem)
  expect(inOrder(items).map(({ id }) => id)).toEqual(['4', '3', '2', '1', '0'])
  expect(groupOf(note({ state: 'confirmed', query }))).toBe('queries')
})

test('agreement is only spoken of when two heard something', () => {
  expect(standingWords(note())).toBe('')
  expect(standingWords(note({ results: [result(), result({ engine: 'sphinx_ngram' })] }))).toBe('2 recognisers heard the same')
  expect(standingWords(note({ results: [result(), result({ engine: 'sphinx_ngram', text: '' })] }))).toBe('')
  expect(standingWords(note({ state: 'differ' }))).toBe('the recognisers differ')
})

test('what differs is said by name', () => {
  expect(differWords(['value'])).toBe('the value differs')
  expect(differWords(['place', 'value', 'unit'])).toBe('the place, the value and the unit differ')
})

test('progress is a count that says when it is done', () => {
  const tally = { waiting: 7, coming: 0, confirmed: 0, transcribed: 12, queries: 0, undecodable: 1, recognisers: [] }
  expect(progressWords(tally)).toBe('12 of 19 recordings transcribed.')
  expect(progressWords({ ...tally, waiting: 0 })).toBe('All 12 recordings are transcribed.')
  expect(progressWords({ ...tally, waiting: 0, transcribed: 1 })).toBe('The recording is transcribed.')
  expect(progressWords({ ...tally, waiting: 0, transcribed: 0, undecodable: 0 })).toBe('Nothing has been spoken yet.')
})

test('times come from the recogniser whose words stand, or else from any that has some', () => {
  const other = result({ engine: 'sphinx_ngram', words: [['bore', 50, 350, 90]] })
  expect(wordsFor(note({ results: [other, result()] }))[0]![1]).toBe(0)
  expect(wordsFor(note({ engine: '', results: [result({ words: [] }), other] }))[0]![1]).toBe(50)
  expect(wordsFor(note({ words: [['bore', 9, 10, 90]] }))[0]![1]).toBe(9)
  expect(wordsFor(note({ results: [] }))).toEqual([])
})
