import { describe, expect, it } from 'vitest'
import { chosen, patterns, whereWords } from './where.ts'

describe('where a limit applies, in words and as patterns', () => {
  it.each([
    ['valve', '', [], 'everywhere'],
    ['valve', 'inlet', ['valve/*/inlet'], 'valve, inlet only'],
    ['bore', 'some', ['bore/3', 'bore/4'], 'bore 3, bore 4'],
  ])('%s %s', (part, choice, written, words) => {
    expect(patterns(part, choice, ['bore/3', 'bore/4'])).toEqual(written)
    expect(chosen(part, written)).toBe(choice)
    expect(whereWords(null, written)).toBe(words)
  })
})
