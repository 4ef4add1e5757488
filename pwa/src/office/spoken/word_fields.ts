// The fields of one of the workshop's own words, and what may be wrong with them.

import { listed } from '../../trade/ground/sentences.ts'
import { always, type FormField } from '../registers/form/schema.ts'
import { say } from '../frame/say.ts'
import { near, soundsOf, unknownIn } from './example.ts'
import { MEANINGS, separated } from './means.ts'
import type { Word } from './shapes.ts'

export interface TypedWord {
  word: string
  /** Known words that sound like it, one pronunciation on each line. */
  example: string
  /** What it stands for; both '' when only for itself. */
  sort: string
  code: string
}

export function typedFrom({ word, sounds_like, means }: Word): TypedWord {
  const [sort, code] = separated(means)
  return { word, example: sounds_like.join('\n'), sort, code }
}

/** As it is recorded. */
export const wordFrom = ({ word, example, sort, code }: TypedWord): Word => ({
  word: word.trim(),
  sounds_like: phrasesOf(example),
  means: sort ? `${sort}:${code}` : '',
  retired: false,
})

const phrasesOf = (example: string) => example.split('\n').map((line) => line.trim()).filter(Boolean)

function soundsHint({ example }: TypedWord): string {
  const sounds = phrasesOf(example).map(soundsOf).filter(Boolean)
  return sounds.length ? say('spoken.sounds', { sounds: listed(sounds) }) : ''
}

const codesOf = (sort: string) => MEANINGS.find((meaning) => meaning.sort === sort)?.of ?? []

export const WORD_FIELDS: FormField<TypedWord>[] = [
  { control: 'text', field: 'word', label: 'spoken.word', needed: always, hint: 'spoken.word_hint' },
  { control: 'lines', field: 'example', label: 'spoken.sounds_like_label', hint: 'spoken.sounds_like_hint', hintFor: soundsHint },
  {
    control: 'choice',
    field: 'sort',
    label: 'spoken.stands_for_label',
    options: () => MEANINGS.map(({ sort, words }) => ({ value: sort, words })),
    change: (sort) => ({ sort, code: '' }),
  },
  {
    control: 'choice',
    field: 'code',
    label: 'spoken.which',
    shown: ({ sort }) => codesOf(sort).length > 0,
    options: ({ sort }) => [{ value: '', words: say('common.choose') }, ...codesOf(sort)],
  },
]

/** What is wrong with the example at this moment; '' when all its words are known. */
export function exampleFault({ example }: TypedWord): string {
  const unknown = [...new Set(phrasesOf(example).flatMap(unknownIn))]
  return unknown.length ? unknownWords(unknown) : ''
}

/** What keeps a word from being saved; '' when nothing does. `taken`: the words that there are already. */
export function wordFault(typed: TypedWord, taken: string[]): string {
  const word = typed.word.trim()
  const phrases = phrasesOf(typed.example)
  if (!word) return say('spoken.word_needed')
  if (taken.some((other) => other.toLowerCase() === word.toLowerCase())) return say('spoken.word_taken', { word })
  if (exampleFault(typed)) return say('spoken.example_wrong')
  // A known word is pronounced as it is written; any other needs an example.
  const unknown = phrases.length ? undefined : unknownIn(word)[0]
  if (unknown !== undefined) return say('spoken.example_needed', { word: unknown })
  return typed.sort && !typed.code ? say('spoken.meaning_needed') : ''
}

function unknownWords(words: string[]): string {
  const sentences = words.map((word) => {
    const close = near(word)
    return close.length ? say('spoken.unknown_near', { word, words: listed(close) }) : say('spoken.unknown', { word })
  })
  return `${sentences.join(' ')} ${say('spoken.use_known_words')}`
}
