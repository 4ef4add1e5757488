// The words of the trade for searching: what somebody types, and what others call the same thing.
// The twin of trade/engine/vocabulary.py: a search for "wrist pin" finds the gudgeon pin, with signal or without.

import table from '../../../../server/witnessmark/trade/data/vocabulary.json'

/** Proposed for a finding; a technician may always write another word. */
export const CONDITIONS: string[] = table.conditions.map((condition) => condition.word)

/** All condition words, those that such a part usually shows first: a bolt stretches, a shell is wiped. */
export function conditionsFor(place: string): string[] {
  const part = place.split('/')[0]!
  const usual = table.conditions.filter((condition) => (condition.parts as string[]).includes(part)).map((condition) => condition.word)
  return [...usual, ...CONDITIONS.filter((word) => !usual.includes(word))]
}

const WORD = /[\p{L}\p{N}]+(?:[.,][\p{L}\p{N}]+)*/gu
const LEAST_FOR_PLURAL = 3

/** The words of a text as they are compared: lower case, no accents, hyphens apart; 57.02 stays one word. */
function words(text: string): string[] {
  return text.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '').match(WORD) ?? []
}

const ends = (word: string, ...endings: string[]) => endings.some((ending) => word.endsWith(ending))

/** A plain English plural made singular; other words stay as they are. */
export function singular(word: string): string {
  if (word.length <= LEAST_FOR_PLURAL || !word.endsWith('s') || ends(word, 'ss', 'us', 'is')) return word
  if (word.endsWith('ies')) return `${word.slice(0, -3)}y`
  return ends(word, 'sses', 'shes', 'ches', 'xes', 'zes') ? word.slice(0, -2) : word.slice(0, -1)
}

/** The plain plural of a thing; words that are no thing by their ending stay as they are. */
export function plural(word: string): string {
  if (word.length < LEAST_FOR_PLURAL || !/^\p{L}+$/u.test(word) || ends(word, 's', 'ed', 'ly')) return word
  if (ends(word, 'x', 'z', 'ch', 'sh')) return `${word}es`
  return /[^aeiou]y$/.test(word) ? `${word.slice(0, -1)}ies` : `${word}s`
}

const keyOf = (phrase: string[]) => phrase.map(singular).join(' ')

function groups(): Map<string, string[]> {
  const phrasesByKey = new Map<string, string[]>()
  for (const group of [...table.groups, ...table.conditions.map((condition) => [condition.word, ...condition.also])]) {
    const phrases = group.map((phrase) => words(phrase).join(' '))
    for (const phrase of phrases) {
      const key = keyOf(phrase.split(' '))
      const known = phrasesByKey.get(key) ?? [phrase]
      phrasesByKey.set(key, [...new Set([...known, ...phrases])])
    }
  }
  return phrasesByKey
}

const SAME = groups()
const LONGEST = Math.max(...[...SAME.keys()].map((key) => key.split(' ').length))

interface Named {
  said: string
  same: string[]
}

/**
 * One group for each thing the query names: its phrases mean the same, the typed one first. A record matches when it
 * holds a phrase of every group. What stands in "quotation marks" is taken as it is.
 */
export function expand(query: string): string[][] {
  return read(query).map(({ said: typed, same }) => [...new Set([typed, ...same.flatMap(forms)])])
}

/** What else is searched for: the other names of the things the query names, each once. */
export function also(query: string): string[] {
  const named = read(query)
  const typed = new Set(named.map(({ said: phrase }) => keyOf(phrase.split(' '))))
  return [...new Set(named.flatMap(({ same }) => same))].filter((phrase) => !typed.has(keyOf(phrase.split(' '))))
}

function read(query: string): Named[] {
  const mentions: Named[] = []
  query.split('"').forEach((piece, index) => {
    const spoken = words(piece)
    if (index % 2 === 1) {
      if (spoken.length) mentions.push({ said: spoken.join(' '), same: [] })
      return
    }
    for (let at = 0; at < spoken.length; ) {
      let length = LONGEST
      while (length > 1 && !SAME.has(keyOf(spoken.slice(at, at + length)))) length -= 1
      const phrase = spoken.slice(at, at + length)
      const key = keyOf(phrase)
      mentions.push({ said: phrase.join(' '), same: SAME.get(key) ?? [key] })
      at += phrase.length
    }
  })
  return mentions
}

/** A phrase as one thing and as several. */
function forms(phrase: string): string[] {
  const parts = phrase.split(' ')
  const last = parts.pop()!
  return [phrase, [...parts, plural(singular(last))].join(' ')]
}
