// What is known of one sound: what machines heard, what a person says is said, what was recorded from it, and whether
// these differ. The twin of trade/spoken_notes.py, which says more.

import type { Standing } from './corrections.ts'
import type { Entry } from './kinds.ts'
import { line } from './lines.ts'
import type { OwnWord } from './own_words.ts'
import type { EngineType } from './parts.ts'
import { BUILT_IN, quantityOf, readingCodes, type Procedure } from './procedures.ts'
import { read, said } from './spoken.ts'
import { differing, type Part } from './spoken_differences.ts'
import type { Screen } from './spoken_types.ts'

export type Heard = [word: string, fromMs: number, toMs: number, confidence: number]

/** What one recogniser heard, as an entry holds it. */
export interface Result {
  engine: string
  version: string
  model: string
  model_sha256: string
  sort: 'closed' | 'free'
  denoised: boolean
  vocabulary: string
  text: string
  confidence: number
  words: Heard[]
}

/** text: words were understood, and nothing in them that recognisers could agree on. */
export type SpokenState = 'waiting' | 'nothing' | 'text' | 'agree' | 'differ' | 'confirmed'

export interface SpokenQuery {
  records: { id: string; recorded: string; heard: string; parts: Part[] }[]
}

export interface SpokenNote {
  state: SpokenState
  /** The words that stand. */
  text: string
  by: 'machine' | 'person' | ''
  /** Of the recogniser whose text the machine's is. */
  words: Heard[]
  engine: string
  results: Result[]
  /** The entry that the results stand in. */
  transcript: string | null
  confirmed: { id: string; author: string; claimed: string; remark: string } | null
  records: { id: string; said: string }[]
  query: SpokenQuery | null
}

/** An entry as it stands. */
export type Spoken = Pick<Entry, 'id' | 'kind' | 'version' | 'body' | 'location' | 'author' | 'claimed'>

export const RECORDS = ['measured', 'finding_made', 'fastener_tightened']
const SORTS: Record<string, Screen['sort']> = { measure: 'measure', finding: 'finding', tighten: 'tighten' }

/** The screen that a sound was spoken to, as the parser and the grammar ask for it. */
export function screenOf(sound: Pick<Spoken, 'body' | 'location'>, procedures: Record<string, Procedure> = BUILT_IN): Screen {
  const { place, point } = sound.location ?? { place: '', point: '' }
  const [procedure, reading] = [String(sound.body['procedure'] ?? ''), String(sound.body['reading'] ?? '')]
  const asked = Object.hasOwn(procedures, procedure) ? procedures[procedure]! : null
  const quantity = asked && readingCodes(asked).includes(reading) ? quantityOf(asked, reading) : ''
  return { sort: SORTS[String(sound.body['screen'])] ?? 'any', place, point, procedure, reading, quantity, units: [] }
}

/** What is known of a sound; all that comes in stands as it is now, in the order of the log. */
export function note(
  sound: Spoken,
  transcripts: Spoken[],
  confirmations: Spoken[],
  records: Spoken[],
  engine: EngineType | null,
  own: OwnWord[] = [],
): SpokenNote {
  const newest = transcripts.at(-1) ?? null
  const told = (newest?.body ?? { results: [], outcome: 'waiting', text: '', engine: '' }) as {
    results: Result[]
    outcome: SpokenState
    text: string
    engine: string
  }
  const person = confirmations.at(-1) ?? null
  const text = person ? String(person.body['text']) : told.text
  return {
    state: person ? 'confirmed' : told.outcome,
    text,
    by: person ? 'person' : text ? 'machine' : '',
    words: told.results.find((one) => one.engine === told.engine)?.words ?? [],
    engine: told.engine,
    results: told.results,
    transcript: newest?.id ?? null,
    confirmed: person && { id: person.id, author: person.author, claimed: person.claimed, remark: String(person.body['remark']) },
    records: records.map((one) => ({ id: one.id, said: recorded(one, engine) })),
    query: person ? null : query(sound, told.results, records, engine, own),
  }
}

/**
 * The note of the sound with this id out of a fold (trade/corrections) that has the sound, its transcripts and
 * confirmations and the records that name it; what else is in it is passed over. Null when the sound is not in it.
 */
export function ofStandings(standings: Standing<Entry>[], sound: string, engine: EngineType | null, own: OwnWord[] = []): SpokenNote | null {
  const as = ({ entry, body, location }: Standing<Entry>): Entry => ({ ...entry, body, location })
  const held = standings.filter((one) => !one.withdrawnBy).map(as)
  const itself = standings.find(({ entry }) => entry.kind === 'sound_recorded' && entry.id === sound)
  if (!itself) return null
  const here = as(itself)
  const about = (kind: string) => held.filter((one) => one.kind === kind && one.body['entry'] === sound)
  const records = held.filter((one) => RECORDS.includes(one.kind) && one.body['spoken'] === sound && one.job === here.job)
  const found = note(here, about('transcript_made'), about('transcript_confirmed'), records, engine, own)
  // Of a sound that is not to count nothing is asked any more.
  return itself.withdrawnBy ? { ...found, query: null } : found
}

/** The records that no recogniser heard as they were recorded, though one heard something that could be one. */
function query(sound: Spoken, results: Result[], records: Spoken[], engine: EngineType | null, own: OwnWord[]): SpokenQuery | null {
  if (records.length === 0) return null
  const screen = screenOf(sound)
  const heard = results.filter((one) => one.text).map((one) => read(one.text, screen, engine, own))
  const parts = records.map((record) => heard.map((one) => differing(one, record)))
  // What was heard as another record of this sound is no contradiction to this one.
  const taken = new Set(parts.flatMap((ofRecord) => [...ofRecord.keys()].filter((n) => ofRecord[n]?.length === 0)))
  const open = records.flatMap((record, index) => {
    const ofRecord = parts[index]!
    if (ofRecord.some((differ) => differ?.length === 0)) return []
    const left = [...ofRecord.keys()].filter((n) => ofRecord[n] && !taken.has(n))
    if (left.length === 0) return []
    const nearest = left.reduce((best, n) => (ofRecord[n]!.length < ofRecord[best]!.length ? n : best))
    return [{ id: record.id, recorded: recorded(record, engine), heard: said(heard[nearest]!, engine), parts: ofRecord[nearest]! }]
  })
  return open.length > 0 ? { records: open } : null
}

function recorded(record: Spoken, engine: EngineType | null): string {
  const { title, text } = line(record, engine)
  return record.kind === 'finding_made' && text ? `${title}. ${text}` : title
}
