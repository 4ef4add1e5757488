import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { fold, type Folded } from './corrections.ts'
import { checkCorrection } from '../record/correcting.ts'
import { proposeNumber } from '../record/jobs.ts'

const load = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../../../tests/vectors/${name}`, import.meta.url), 'utf8'))
const vectors = load('corrections.json')
const jobs = load('jobs.json')

describe('a mistake is answered by a new entry', () => {
  it.each<{ name: string; entries: Folded[]; standing: unknown[] }>(vectors.fold)('$name', (vector) => {
    const before = structuredClone(vector.entries)
    const standings = fold(vector.entries).map((held) => ({
      id: held.entry.id,
      body: held.body,
      location: held.location,
      corrected_by: held.correctedBy.map((other) => other.id),
      withdrawn_by: held.withdrawnBy?.id ?? null,
    }))
    expect(standings).toEqual(vector.standing)
    expect(vector.entries).toEqual(before)
  })

  it.each<{ name: string; kind: string; version?: number; correction: any; refused: object | null }>(vectors.check)(
    'a correction of $name',
    ({ kind, version = 1, correction, refused }) => {
      const target = { kind, version }
      if (refused === null) return expect(() => checkCorrection(correction, target)).not.toThrow()
      expect(() => checkCorrection(correction, target)).toThrowError(expect.objectContaining(refused))
    },
  )
})

describe('the number of a new job', () => {
  it.each<{ known: string[]; letter: string; number: string }>(jobs.numbers)('next is $number', (vector) => {
    expect(proposeNumber(vector.known, vector.letter)).toBe(vector.number)
  })
})
