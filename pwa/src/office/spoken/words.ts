// How spoken notes are spoken of.

import { PARTS as PROPOSAL_PARTS } from './parts.ts'
import type { HeardWord } from '../../trade/spoken/timed_words.ts'
import type { Note, Result, SpokenItem, Tally } from './shapes.ts'
import { nameOf } from '../job/record/fields.ts'
import { count, listed } from '../frame/words.ts'

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

/** Who stands behind the words, before a name and a time are put to it. */
export function standingWords(note: Note): string {
  const machines = note.results.filter(({ text }) => text).length
  if (note.state === 'agree' && machines > 1) return `${count(machines, 'recogniser')} heard the same`
  if (note.state === 'differ') return 'the recognisers differ'
  return ''
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

/** The words with their times that the standing text is laid over: those of the recogniser it came from, else any that has some. */
export function wordsFor(note: Note): readonly HeardWord[] {
  if (note.words?.length) return note.words
  const from = note.results.find(({ engine, words }) => engine === note.engine && words?.length)
  return (from ?? note.results.find(({ words }) => words?.length))?.words ?? []
}

/** The notes heap by heap, as they stand under their headings; within a heap as the server has them. */
export function inOrder(items: readonly SpokenItem[]): SpokenItem[] {
  return GROUPS.flatMap(([group]) => items.filter(({ spoken }) => groupOf(spoken) === group))
}

/** Whose words they are, short, behind the length of a recording. */
export function by(note: Note): string {
  if (note.state === 'waiting') return 'not transcribed yet'
  if (note.state === 'nothing') return 'nothing understood'
  if (note.state === 'undecodable') return 'cannot be transcribed'
  if (note.state === 'confirmed') return note.confirmed ? `confirmed by ${nameOf(note.confirmed.author)}` : 'confirmed'
  return 'machine transcript'
}
