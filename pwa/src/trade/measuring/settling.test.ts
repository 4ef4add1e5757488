import { describe, expect, it } from 'vitest'
import { unproven, vectors } from '../../../support/made.ts'
import { settle } from './settling.ts'

const { gauges, cases } = vectors('settling.json')

describe('what would settle a figure, as on the server', () => {
  it.each<any>(cases)('case %#: $standing', (vector) => {
    const register = vector.register.map((name: string) => gauges[name])
    expect(settle(unproven(vector, gauges), register, vector.day)).toEqual(vector.settle)
  })
})
