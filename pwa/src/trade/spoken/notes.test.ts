import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import vectors from '../../../../tests/vectors/spoken_notes.json'
import { fold } from '../ground/corrections.ts'
import type { Entry } from '../ground/entry.ts'
import { ownWords } from '../record/own_words.ts'
import type { EngineType } from '../engine/parts.ts'
import { note, ofStandings, type Result, type Spoken } from './notes.ts'

const ENGINES = new Map((engines.engine_types as unknown as EngineType[]).map((type) => [type.name, type]))
const spoken = (entries: unknown) => entries as Spoken[]

describe('what is known of a sound reads the same on the phone', () => {
  it.each(vectors.notes)('note: $name', (vector) => {
    const engine = ENGINES.get(vector.engine_type)!
    const result = note(vector.sound as Spoken, spoken(vector.transcripts), spoken(vector.confirmations), spoken(vector.records), engine)
    const { results, words, ...rest } = result
    expect(results).toEqual((vector.transcripts.at(-1)?.body as { results: Result[] } | undefined)?.results ?? [])
    expect(words).toHaveLength(vector.words)
    // Queries are the office's.
    const { query: _, ...known } = vector.note
    expect(rest).toEqual(known)
  })

  it.each(vectors.own_words)('words: $name', ({ entries, words }) => expect(ownWords(entries as never)).toEqual(words))
})

it('only what stands counts, and only of this job', () => {
  const { sound, transcripts, records, engine_type } = vectors.notes.find((note) => note.name === 'none heard it as it was recorded')!
  const here = (entry: unknown, job = 'here') => ({ ...(entry as Entry), job })
  const away = (entry: string) => ({ id: 'w', kind: 'entry_withdrawn', version: 1, location: null, body: { entry } }) as unknown as Entry
  const noteWith = (...more: Entry[]) => ofStandings(fold([here(sound), here(transcripts[0]), here(records[0]), ...more]), sound.id, ENGINES.get(engine_type)!)
  expect(noteWith()?.records).toHaveLength(1)
  expect(noteWith(away(records[0]!.id))?.records).toEqual([])
  expect(noteWith(away(transcripts[0]!.id))?.state).toBe('waiting')
  const elsewhere = ofStandings(fold([here(sound), here(transcripts[0]), here(records[0], 'there')]), sound.id, null)
  expect(elsewhere?.records).toEqual([])
  expect(ofStandings(fold([here(records[0])]), sound.id, null)).toBeNull()
})
