import { expect, test } from 'vitest'
import { near, soundsOf, unknownIn } from './example.ts'

test('a word of an example that nobody knows is named, each once', () => {
  expect(unknownIn('bore three')).toEqual([])
  expect(unknownIn('Bore xylofern three xylofern')).toEqual(['xylofern'])
  expect(unknownIn('')).toEqual([])
})

test('what may have been meant begins alike and is known', () => {
  expect(near('borr')).toContain('bore')
  for (const word of near('pistin')) expect(unknownIn(word)).toEqual([])
  expect(near('zzqx')).toEqual([])
})

test('the sounds of an example are those of its words', () => {
  expect(soundsOf('bore three')).toMatch(/^B AO( R)? · TH R IY$/)
  expect(soundsOf('bore xylofern')).toBe('')
})
