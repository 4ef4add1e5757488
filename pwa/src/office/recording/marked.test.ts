import { expect, test } from 'vitest'
import { marked, phrasesOf } from './marked.ts'

test('what was sought is marked, under whichever name it was found', () => {
  expect(marked('The gudgeon pin on three turns freely', ['wrist pin', 'gudgeon pin'])).toEqual([
    ['The ', false],
    ['gudgeon pin', true],
    [' on three turns freely', false],
  ])
  expect(marked('Scored, and scores below', ['score'])).toEqual([
    ['Scored', true],
    [', and ', false],
    ['scores', true],
    [' below', false],
  ])
})

test('a piece inside another word is not taken for it, and signs are signs', () => {
  expect(marked('cramping the pin', ['pin'])).toEqual([
    ['cramping the ', false],
    ['pin', true],
  ])
  expect(marked('what (was) it', ['(was'])).toEqual([
    ['what ', false],
    ['(was', true],
    [') it', false],
  ])
  expect(marked('as it is', [])).toEqual([['as it is', false]])
  expect(marked('', ['x'])).toEqual([['', false]])
})

test('what was typed is sought as a whole and word by word', () => {
  expect(phrasesOf('wrist pin')).toEqual(['wrist pin', 'wrist', 'pin'])
  expect(phrasesOf('"wrist pin" loose')).toEqual(['wrist pin', 'loose', 'loose'])
})
