import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { gridCodes, ofPart, pointWords, quantityOf, readingCodes, required, type Procedure } from './procedures.ts'

type Asked = {
  of: string
  grid: string[]
  readings: string[]
  required: string[]
  words: Record<string, string>
  quantities: Record<string, string>
}

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/procedures.json', import.meta.url), 'utf8'))
const all: Procedure[] = [vectors.base, ...vectors.procedures]

describe('a measuring procedure, as on the server', () => {
  it.each<Asked>(vectors.asked)('$of asks for its readings in order', (vector) => {
    const procedure = all.find((candidate) => candidate.code === vector.of)!
    expect(gridCodes(procedure)).toEqual(vector.grid)
    expect(readingCodes(procedure)).toEqual(vector.readings)
    expect(required(procedure)).toEqual(vector.required)
    for (const [code, words] of Object.entries(vector.words)) expect(pointWords(procedure, code)).toBe(words)
    for (const [code, quantity] of Object.entries(vector.quantities)) expect(quantityOf(procedure, code)).toBe(quantity)
  })

  it('is found by its part', () => {
    expect(ofPart('bore', all).map((procedure) => procedure.code)).toEqual(['own_sleeve'])
  })
})
