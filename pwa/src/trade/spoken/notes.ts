// What is known of one sound: what machines heard, what a person says is said, what was recorded from it. The twin of
// trade/spoken/notes.py, which says more and looks for queries: those need the parser and all its words, which the phone's
// app does not carry.

import type { Standing } from '../ground/corrections.ts'
import type { Entry } from '../ground/entry.ts'
import { kindsWith } from '../record/kinds.ts'
import { line } from '../record/lines.ts'
import type { EngineType } from '../engine/parts.ts'

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
}

/** An entry as it stands. */
export type Spoken = Pick<Entry, 'id' | 'kind' | 'version' | 'body' | 'location' | 'author' | 'claimed'>

/** What may be recorded from a sound. */
export const RECORDS = kindsWith('spoken')

/** What is known of a sound; all that comes in stands as it is now, in the order of the log. */
export function note(
  sound: Spoken,
  transcripts: Spoken[],
  confirmations: Spoken[],
  records: Spoken[],
  engine: EngineType | null,
): SpokenNote {
  const newest = transcripts.at(-1) ?? null
  const transcript = (newest?.body ?? { results: [], outcome: 'waiting', text: '', engine: '' }) as {
    results: Result[]
    outcome: SpokenState
    text: string
    engine: string
  }
  const person = confirmations.at(-1) ?? null
  const text = person ? String(person.body['text']) : transcript.text
  return {
    state: person ? 'confirmed' : transcript.outcome,
    text,
    by: person ? 'person' : text ? 'machine' : '',
    words: transcript.results.find((result) => result.engine === transcript.engine)?.words ?? [],
    engine: transcript.engine,
    results: transcript.results,
    transcript: newest?.id ?? null,
    confirmed: person && { id: person.id, author: person.author, claimed: person.claimed, remark: String(person.body['remark']) },
    records: records.map((record) => ({ id: record.id, said: recorded(record, engine) })),
  }
}

/**
 * The note of the sound with this id out of a fold (trade/ground/corrections) that has the sound, its transcripts and
 * confirmations and the records that name it; what else is in it is passed over. Null when the sound is not in it.
 */
export function ofStandings(standings: Standing<Entry>[], sound: string, engine: EngineType | null): SpokenNote | null {
  const as = ({ entry, body, location }: Standing<Entry>): Entry => ({ ...entry, body, location })
  const held = standings.filter((standing) => !standing.withdrawnBy).map(as)
  const itself = standings.find(({ entry }) => entry.kind === 'sound_recorded' && entry.id === sound)
  if (!itself) return null
  const here = as(itself)
  const about = (kind: string) => held.filter((entry) => entry.kind === kind && entry.body['entry'] === sound)
  const records = held.filter((entry) => RECORDS.includes(entry.kind) && entry.body['spoken'] === sound && entry.job === here.job)
  return note(here, about('transcript_made'), about('transcript_confirmed'), records, engine)
}

function recorded(record: Spoken, engine: EngineType | null): string {
  const { title, text } = line(record, engine)
  return record.kind === 'finding_made' && text ? `${title}. ${text}` : title
}
