import { describe, expect, it } from 'vitest'
import { amount, each, text, vectors } from '../../../support/made.ts'
import { type Gauge, inRange, inSi, overdue, standsIn } from './gauges.ts'

const cases = vectors('gauges.json')

describe('gauges, as on the server', () => {
  it.each<[Gauge, object]>(cases.in_si)('numbers in SI of $name', (gauge, numbers) => {
    expect(each<any, unknown>({ ...inSi(gauge) }, (value) => (typeof value === 'string' ? value : text(value)))).toEqual(numbers)
  })

  it.each<[Gauge, string, boolean]>(cases.overdue)('overdue %#', (gauge, claimed, late) => {
    expect(overdue(gauge, claimed)).toBe(late)
  })

  it.each<[Gauge, string, boolean]>(cases.in_range)('in range %#', (gauge, size, reached) => {
    expect(inRange(gauge, amount(size))).toBe(reached)
  })

  it.each<[Gauge, Gauge, boolean]>(cases.stands_in)('in place of another %#', (gauge, other, can) => {
    expect([standsIn(inSi(gauge), inSi(other)), standsIn(inSi(other), inSi(gauge))]).toEqual([can, can])
  })
})
