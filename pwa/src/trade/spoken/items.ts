// Tokens of speech gathered into items: a phrase of the vocabulary, a number, a unit, or a word that nobody knows. The
// twin of trade/spoken/items.py.

import { runEnd } from './numbers.ts'
import type { Token } from './text.ts'
import { NUMBERS, type Index, type Meaning, type Phrase } from './words.ts'

export type ItemSort = 'number' | 'ordinal' | 'sign' | 'unit' | 'to' | 'phrase' | 'word'

/**
 * `meanings` are those of a phrase, of an ordinal its digits, of a unit its code. `breaks`: a stop stands before it.
 * `said` is what was said, in small letters.
 */
export interface Item {
  sort: ItemSort
  meanings: Meaning[]
  tokens: Token[]
  breaks: boolean
  said: string
}

/** The codes that it can mean of this sort. */
export function means(item: Item, sort: string): string[] {
  return item.meanings.filter(([kind]) => kind === sort).map(([, code]) => code)
}

export function has(item: Item | undefined, ...sorts: string[]): boolean {
  return item !== undefined && item.meanings.some(([kind]) => sorts.includes(kind))
}

export function makeItem(sort: ItemSort, meanings: Meaning[], tokens: Token[]): Item {
  return { sort, meanings, tokens, breaks: tokens[0]!.breaks, said: tokens.map((token) => token.raw).join(' ') }
}

/** All tokens as items, in order; none is lost. */
export function items(tokens: Token[], index: Index): Item[] {
  const sequence: Item[] = []
  for (let at = 0; at < tokens.length; ) {
    const item = itemAt(tokens, at, index)
    sequence.push(item)
    at += item.tokens.length
  }
  return sequence
}

function itemAt(tokens: Token[], at: number, index: Index): Item {
  const token = tokens[at]!
  if (token.kind === 'unit') return makeItem('unit', [['unit', token.text]], [token])
  if (token.kind === 'sign' || token.kind === 'to') return makeItem(token.kind, [], [token])
  if (token.kind === 'ordinal') return makeItem('ordinal', [['ordinal', token.text]], [token])
  const [length, meanings] = phraseAt(tokens, at, index)
  const number = runEnd(tokens, at) - at
  // "one way" is a phrase, "one" a number; a number of several words is never cut by a phrase inside it.
  if (number && !(length > 1 && length >= number)) return makeItem('number', [], tokens.slice(at, at + number))
  if (length > 1) return makeItem(sortOf(meanings), meanings, tokens.slice(at, at + length))
  const ordinals: Record<string, string> = NUMBERS.ordinals
  if (Object.hasOwn(ordinals, token.text)) return makeItem('ordinal', [['ordinal', ordinals[token.text]!]], [token])
  return makeItem(length ? sortOf(meanings) : 'word', meanings, [token])
}

function sortOf(meanings: Meaning[]): ItemSort {
  if (meanings.every(([sort]) => sort === 'unit')) return 'unit'
  const sorts = meanings.map(([sort]) => sort)
  return sorts.includes('number_sign') ? 'sign' : sorts.includes('to') ? 'to' : 'phrase'
}

/** [how many tokens the longest phrase at `at` takes, what it can mean]; [0, []] for none. */
function phraseAt(tokens: Token[], at: number, index: Index): [number, Meaning[]] {
  const phrases = phrasesAt(tokens, at, index)
  const [first, ...shorter] = phrases
  if (!first) return [0, []]
  for (const { words, meanings } of shorter) {
    // "Crank end play" is the crank's end play and no crank end that plays; a "cylinder head gasket face" is no gasket.
    const [following] = phrasesAt(tokens, at + words.length, index)
    if (following && following.words.length > first.words.length - words.length) return [words.length, meanings]
  }
  return [first.words.length, first.meanings]
}

/** Every phrase that begins at `at`, the longest first. */
function phrasesAt(tokens: Token[], at: number, index: Index): Phrase[] {
  return (index.get(tokens[at]!.text) ?? []).filter(({ words }) =>
    words.every((word, i) => {
      const token = tokens[at + i]
      return token?.text === word && (token.kind === 'word' || token.kind === 'whole') && !(i > 0 && token.breaks)
    }),
  )
}
