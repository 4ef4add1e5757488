// Own words by example: which words of the example are known, and what it then sounds like. Pure.

import pronunciations from '../../../../server/witnessmark/trade/data/pronunciations.json'

const KNOWN: Record<string, string[]> = pronunciations.words

/** The words of a phrase that have no pronunciation, each once, as they were written. */
export function unknownIn(phrase: string): string[] {
  return [...new Set(spoken(phrase).filter((word) => !known(word)))]
}

/** Known words that begin like an unknown one, the shortest first: what may have been meant. */
export function near(word: string, most = 3): string[] {
  for (let length = word.length - 1; length >= 2; length -= 1) {
    const begin = word.slice(0, length).toLowerCase()
    const matching = Object.keys(KNOWN).filter((key) => key.startsWith(begin))
    if (matching.length) return matching.sort((a, b) => a.length - b.length || (a < b ? -1 : 1)).slice(0, most)
  }
  return []
}

/** The sounds of a phrase of known words, word by word; '' while one of them is unknown. */
export function soundsOf(phrase: string): string {
  const words = spoken(phrase)
  return words.every(known) ? words.map((word) => KNOWN[word.toLowerCase()]![0]).join(' · ') : ''
}

function known(word: string): boolean {
  return Object.hasOwn(KNOWN, word.toLowerCase())
}

function spoken(phrase: string): string[] {
  return phrase.split(/[\s,-]+/).filter(Boolean)
}
