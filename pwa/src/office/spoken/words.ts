// Sentences about spoken notes, and the order they are listed in.

import { PARTS as PROPOSAL_PARTS } from './parts.ts'
import type { SpokenItem, Tally } from './shapes.ts'
import { listed } from '../frame/words.ts'
import type { Note, Result } from '../frame/shapes.ts'
import { say } from '../frame/say.ts'

const ENGINES: Record<string, string> = {
  sphinx_ngram: say('spoken.engine_ngram'),
  sphinx_grammar: say('spoken.engine_grammar'),
  whisper: say('spoken.engine_free'),
  vosk: say('spoken.engine_vosk'),
  chain: say('spoken.engine_chain'),
}

/** What a recogniser is, in words; a recogniser added by the workshop has its own name. */
export function engineWords({ engine, sort }: Pick<Result, 'engine' | 'sort'>): string {
  return ENGINES[engine] ?? say('spoken.engine_own', { engine, sort: sort === 'closed' ? say('spoken.engine_closed') : say('spoken.engine_free') })
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
  ['queries', say('spoken.group_queries')],
  ['waiting', say('spoken.group_waiting')],
  ['undecodable', say('spoken.group_undecodable')],
  ['unconfirmed', say('spoken.group_machine')],
  ['confirmed', say('spoken.group_confirmed')],
]

/** The group of the list that a note belongs to. */
export function groupOf(note: Note): Group {
  if (note.query) return 'queries'
  if (note.state === 'waiting' || note.state === 'undecodable') return note.state
  return note.state === 'confirmed' ? 'confirmed' : 'unconfirmed'
}

/** "value and unit differ" */
export function differWords(parts: string[]): string {
  const named = parts.map((part) => PROPOSAL_PARTS[part] ?? part)
  return say('spoken.parts_differ', { parts: listed(named), count: named.length })
}

/** How far transcription is, in one sentence. */
export function progressWords(tally: Tally): string {
  const done = tally.transcribed
  const all = done + tally.waiting
  if (!all && !tally.undecodable) return say('spoken.nothing_yet')
  if (tally.waiting) return say('spoken.transcribed_of', { done, count: all })
  return say('spoken.all_transcribed', { count: done })
}

/** The notes group by group, as they stand under their headings; within a group as the server has them. */
export function inOrder(items: readonly SpokenItem[]): SpokenItem[] {
  return GROUPS.flatMap(([group]) => items.filter(({ spoken }) => groupOf(spoken) === group))
}

