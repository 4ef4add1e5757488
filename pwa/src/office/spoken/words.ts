// How spoken notes are spoken of.

import { PARTS as PROPOSAL_PARTS } from './parts.ts'
import type { SpokenItem, Tally } from './shapes.ts'
import { count, listed } from '../frame/words.ts'
import type { Note, Result } from '../frame/shapes.ts'

const ENGINES: Record<string, string> = {
  sphinx_ngram: 'trade words, by what usually follows what',
  sphinx_grammar: 'trade words, by the sentences of the screen',
  whisper: 'free dictation',
  vosk: 'free dictation, own model',
  chain: 'all of them, weighed together',
}

/** What a recogniser is, in words; one that was added by the workshop bears its own name. */
export function engineWords({ engine, sort }: Pick<Result, 'engine' | 'sort'>): string {
  return ENGINES[engine] ?? `${engine}, ${sort === 'closed' ? 'trade words only' : 'free dictation'}`
}

export function recogniserWords(id: string): string {
  return ENGINES[id] ?? id
}

/** The first of a hash, as it stands in small print. */
export function short(hash: string): string {
  return hash.slice(0, 12)
}

export type Group = 'queries' | 'waiting' | 'undecodable' | 'unconfirmed' | 'confirmed'

export const GROUPS: [Group, string][] = [
  ['queries', 'To be answered'],
  ['waiting', 'Not transcribed yet'],
  ['undecodable', 'Cannot be played to a recogniser'],
  ['unconfirmed', 'Machine transcripts'],
  ['confirmed', 'Confirmed by a person'],
]

/** Under which heading a note stands in the list. */
export function groupOf(note: Note): Group {
  if (note.query) return 'queries'
  if (note.state === 'waiting' || note.state === 'undecodable') return note.state
  return note.state === 'confirmed' ? 'confirmed' : 'unconfirmed'
}

/** "value and unit differ" */
export function differWords(parts: string[]): string {
  const named = parts.map((part) => PROPOSAL_PARTS[part] ?? part)
  return `${listed(named)} ${named.length === 1 ? 'differs' : 'differ'}`
}

/** How far transcription is, in one sentence. */
export function progressWords(tally: Tally): string {
  const done = tally.transcribed
  const all = done + tally.waiting
  if (!all && !tally.undecodable) return 'Nothing has been spoken yet.'
  if (tally.waiting) return `${done} of ${count(all, 'recording')} transcribed.`
  return `${done === 1 ? 'The one recording is' : `All ${done} recordings are`} transcribed.`
}

/** The notes heap by heap, as they stand under their headings; within a heap as the server has them. */
export function inOrder(items: readonly SpokenItem[]): SpokenItem[] {
  return GROUPS.flatMap(([group]) => items.filter(({ spoken }) => groupOf(spoken) === group))
}

