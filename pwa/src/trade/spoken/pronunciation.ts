// How words are pronounced: the dictionary of a decoder, and the workshop's own words by example.
// The twin of trade/spoken/pronunciation.py. A word with a wrong pronunciation is never heard, so none is spelled out by rules.

import table from '../../../../server/witnessmark/trade/data/pronunciations.json'
import { orNull, Refusal } from '../ground/errors.ts'
import { say } from '../ground/say.ts'
import { plain } from './words.ts'
import type { OwnWord } from './types.ts'

const WORDS = new Map<string, string[]>(Object.entries(table.words))
/** Each phrase an own word sounds like may be said in several ways; more than these are not kept. */
const MOST_WAYS = 4

/** A word of the workshop's own as one piece, whatever it is written with. */
export function tokenOf(word: string): string {
  return plain(word).split(' ').join('_')
}

/**
 * The lines of a decoder's dictionary, "bore B AO R" and "bore(2) B AO", one word after the other as given. Throws
 * Refusal for a word that nobody has said how to pronounce.
 */
export function dictionary(words: string[], own: OwnWord[] = []): string {
  const byExample = new Map(own.map((ownWord) => [tokenOf(ownWord.word), ownWord]))
  return words
    .flatMap((word) => {
      const ownWord = byExample.get(word)
      const ways = WORDS.get(word) ?? (ownWord ? example(ownWord) : [])
      if (ways.length === 0) throw new Refusal('unknown', 'word', say('spoken.word_unknown', { word }))
      return ways.map((way, at) => `${word}${at ? `(${at + 1})` : ''} ${way}\n`)
    })
    .join('')
}

/** The phrases without those that sound like one before them: "millimeters" after "millimetres". */
export function distinct(phrases: string[]): string[] {
  const respelled = new Map<string, string>()
  for (const phrase of phrases) {
    const sounds = phrase
      .split(' ')
      .map((word) => WORDS.get(word)?.[0] ?? word)
      .join(' ')
    if (!respelled.has(sounds)) respelled.set(sounds, phrase)
  }
  return [...respelled.values()]
}

/** Whether a decoder can be told how the own word sounds. */
export function pronounceable(ownWord: OwnWord): boolean {
  return orNull(() => example(ownWord)) !== null
}

/**
 * The pronunciations of an own word, by the phrases it sounds like. Throws Refusal when one of them holds a word that
 * is not known, or when there is none.
 */
export function example(ownWord: OwnWord): string[] {
  const spellings = new Set<string>()
  for (const phrase of ownWord.sounds_like) {
    const words = plain(phrase).split(' ').filter(Boolean)
    let ways: string[][] = words.length ? [[]] : []
    for (const word of words) {
      const its = WORDS.get(word)
      if (!its) throw new Refusal('unknown', 'sounds_like', say('spoken.word_unknown', { word }))
      ways = ways.flatMap((way) => its.map((more) => [...way, more])).slice(0, MOST_WAYS)
    }
    for (const way of ways) spellings.add(way.join(' '))
  }
  if (spellings.size === 0) throw new Refusal('missing', 'sounds_like', say('spoken.sounds_like_missing', { word: ownWord.word }))
  return [...spellings]
}
