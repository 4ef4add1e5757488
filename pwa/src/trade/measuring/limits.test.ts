import { describe, expect, it } from 'vitest'
import { vectors } from '../../../support/made.ts'
import { countsFor, covers, type Limit } from './limits.ts'

const cases = vectors('limits.json')

describe('limits and sizes, as on the server', () => {
  it.each<[string[], string, boolean]>(cases.covers)('%j takes in %s', (where, place, takenIn) => {
    expect(covers(where, place)).toBe(takenIn)
  })

  it.each<[string, string, string, string, string, string[]]>(cases.in_force)(
    'in force for %s %s %s at %s on "%s"',
    (engine, procedure, figure, place, day, ids) => {
      const counting = (cases.limits as Limit[]).filter((limit) => countsFor(limit, engine, procedure, place, day))
      expect(counting.filter((limit) => limit.figure === figure).map((limit) => limit.id)).toEqual(ids)
    },
  )
})
