import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { chosen, countText, inWords, listed, sayer } from './sentences.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/sentences.json', import.meta.url), 'utf8'))

it.each(vectors.counts as [number, string][])('writes %d as the language does', (count, text) => {
  expect(countText(count)).toBe(text)
})

it.each(vectors.lists as [string[], string][])('writes a list as the language does: %j', (items, text) => {
  expect(listed(items)).toBe(text)
})

it('puts the words of another language into a table', () => {
  for (const { table, words, gives } of vectors.worded) expect(inWords(structuredClone(table), words)).toEqual(gives)
})

it('takes the first of the device’s languages that there is a file for', () => {
  expect(chosen(['en', 'de'], ['de-AT', 'en-GB'])).toBe('de')
  expect(chosen(['en', 'de'], ['cy'])).toBe('en')
  expect(chosen(['en', 'de'], [])).toBe('en')
})

it('keeps every digit of a value, and writes a count in its plural form', () => {
  const say = sayer({ '/en.json': { reads: 'Bore {bore} reads {value}.', records: { one: '{count} record', other: '{count} records' } } })
  expect(say('reads', { bore: 3, value: '2.2440 in' })).toBe('Bore 3 reads 2.2440 in.')
  expect(say('records', { count: 1 })).toBe('1 record')
  expect(say('records', { count: 1200 })).toBe('1,200 records')
  expect(() => say('reads', { bore: 3 })).toThrow('{value}')
})
