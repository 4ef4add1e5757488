// The words that a workshop has of its own, spoken like any word of the trade. The twin of trade/record/own_words.py.

import quantities from '../../../../server/witnessmark/trade/data/quantities.json'
import vocabulary from '../../../../server/witnessmark/trade/data/vocabulary.json'
import { KINDS } from './kinds.ts'
import { PARTS } from '../engine/parts.ts'

export interface OwnWord {
  word: string
  /** Phrases of known words that sound like it. */
  sounds_like: string[]
  /** '' when it stands only for itself, else part:<code>, condition:<word>, quantity:<code> or disposition:<code>. */
  means: string
}

export const KIND = 'spoken_word_set'

const MEANINGS: Record<string, Map<string, string>> = {
  part: new Map(Object.values(PARTS).map((part) => [part.code, part.name])),
  condition: new Map(vocabulary.conditions.map((condition) => [condition.word, condition.word])),
  quantity: new Map(quantities.quantities.map((quantity) => [quantity.code, quantity.words])),
  disposition: new Map(Object.entries(KINDS['finding_made']!.fields['disposition']!.of!).filter(([code]) => code !== '')),
}

/** What two sayings of one word have in common: a later one takes the place of the earlier. */
const keyOf = (word: string): string => word.trim().split(/\s+/).join(' ').toLowerCase()

/**
 * The words that count, in the order in which they first came up, from entries in the order of the log. The newest for a
 * word counts; a retired one is left out. Entries of other kinds are passed over.
 */
export function ownWords(entries: Iterable<{ kind: string; body: Record<string, unknown> }>): OwnWord[] {
  const newest = new Map<string, OwnWord & { retired: boolean }>()
  for (const { kind, body } of entries) {
    if (kind === KIND) newest.set(keyOf(String(body['word'])), body as unknown as OwnWord & { retired: boolean })
  }
  return [...newest.values()].filter((word) => !word.retired).map(({ word, sounds_like, means }) => ({ word, sounds_like, means }))
}

/** "part:gudgeon_pin" in words: "gudgeon pin"; a code that is not known here stays as it is; '' for ''. */
export function standsFor(means: string): string {
  const [sort, code] = parted(means)
  return MEANINGS[sort]?.get(code) ?? code
}

function parted(means: string): [string, string] {
  const at = means.indexOf(':')
  return at < 0 ? [means, ''] : [means.slice(0, at), means.slice(at + 1)]
}
