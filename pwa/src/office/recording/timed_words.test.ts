import { expect, test } from 'vitest'
import vectors from '../../../../tests/vectors/timed_words.json'
import { differing, timed, type HeardWord } from './timed_words.ts'

test.each(vectors.timed)('each word of a text has its time: $case', ({ text, words, timed: wanted }) => {
  expect(timed(text, words as unknown as HeardWord[])).toEqual(wanted)
})

test.each(vectors.differing)('words that another did not hear are told apart: $case', ({ text, against, differing: wanted }) => {
  expect(differing(text, against)).toEqual(wanted)
})
