import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { also, conditionsFor, expand } from './vocabulary.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/vocabulary.json', import.meta.url), 'utf8'))

describe('whoever searches with one word of the trade finds what was written with another', () => {
  it.each<{ query: string; expand: string[][]; also: string[] }>(vectors.cases)('"$query"', (vector) => {
    expect(expand(vector.query)).toEqual(vector.expand)
    expect(also(vector.query)).toEqual(vector.also)
  })

  it.each<{ place: string; first: string[] }>(vectors.conditions)('the usual conditions at "$place"', (vector) => {
    expect(conditionsFor(vector.place).slice(0, 6)).toEqual(vector.first)
  })
})
