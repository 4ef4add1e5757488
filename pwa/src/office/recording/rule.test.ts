import { expect, test } from 'vitest'
import { graduations, litAt } from './rule.ts'

test('a short note is marked by seconds, a long one by minutes, never closer than can be read', () => {
  expect(graduations(4200).labels.map(({ words }) => words)).toEqual(['1', '2', '3', '4'])
  expect(graduations(95_000).labels.map(({ words }) => words)).toEqual(['30', '1:00', '1:30'])
  for (let length = 100; length < 4_000_000; length = Math.round(length * 1.37)) {
    const { labels, ticks } = graduations(length)
    expect(labels.length).toBeLessThanOrEqual(7)
    expect(ticks.length).toBeLessThanOrEqual(91)
    expect(ticks.at(-1)!.ms).toBeLessThanOrEqual(length)
  }
})

test('one word is lit at a time, none in a pause', () => {
  const words: [string, number, number][] = [
    ['bore', 100, 400],
    ['three', 400, 700],
    ['off', 900, 900],
  ]
  expect([0, 100, 399, 400, 700, 899, 900, 901].map((at) => litAt(words, at))).toEqual([null, 0, 0, 1, null, null, 2, null])
})
