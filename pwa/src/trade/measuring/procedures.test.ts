import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Fault } from '../ground/errors.ts'
import {
  BUILT_IN, check, gridCodes, ofPart, pointWords, quantityOf, readFile, readingCodes, required, writeFile,
  type Procedure,
} from './procedures.ts'

type Case = { name: string; set: Record<string, unknown>; without: string[]; faults: Fault[] }
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

function changed(one: Case): unknown {
  const procedure = structuredClone(vectors.base)
  for (const [path, value] of Object.entries(one.set)) {
    const way = path.split('.')
    const last = way.pop()!
    way.reduce((held, step) => held[step], procedure)[last] = value
  }
  for (const name of one.without) delete procedure[name]
  return procedure
}

describe('a measuring procedure is checked as a whole', () => {
  it.each(Object.keys(BUILT_IN))('%s has no fault', (code) => expect(check(BUILT_IN[code])).toEqual([]))

  it.each<Case>(vectors.cases)('$name', (one) => expect(check(changed(one))).toEqual(one.faults))

  it.each<{ value: unknown; faults: Fault[] }>(vectors.no_procedure)('$value is none', (one) => {
    expect(check(one.value)).toEqual(one.faults)
  })

  it.each<Asked>(vectors.asked)('$of asks for its readings in order', (one) => {
    const procedure = all.find((found) => found.code === one.of)!
    expect(gridCodes(procedure)).toEqual(one.grid)
    expect(readingCodes(procedure)).toEqual(one.readings)
    expect(required(procedure)).toEqual(one.required)
    for (const [code, words] of Object.entries(one.words)) expect(pointWords(procedure, code)).toBe(words)
    for (const [code, quantity] of Object.entries(one.quantities)) expect(quantityOf(procedure, code)).toBe(quantity)
  })

  it('comes back from its file as it went in', () => {
    expect(readFile(writeFile(vectors.base))).toEqual(vectors.base)
    expect(check(readFile(writeFile(BUILT_IN['cylinder_bore']!)))).toEqual([])
    expect(() => readFile('{"format": "another"}')).toThrow('Choose')
    expect(() => readFile('not json')).toThrow('Choose')
  })

  it('is found by its part', () => {
    expect(ofPart('bore', all).map((one) => one.code)).toEqual(['own_sleeve'])
  })
})
