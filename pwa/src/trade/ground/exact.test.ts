import { describe, expect, it } from 'vitest'
import { amount, text, vectors } from '../../../support/made.ts'
import { normalBelow, roundDown, roundUp, significant, sqrt, tBelow } from './exact.ts'
import { fraction } from './units.ts'

const { roots, normal, student, shown } = vectors('exact.json')

describe('roots, distributions and digits, as on the server', () => {
  it.each<[string, number, string]>(roots)('root of %s to %i decimals', (of, digits, root) => {
    expect(text(sqrt(amount(of), digits))).toBe(root)
  })

  it('has no root below zero', () => {
    expect(() => sqrt(fraction(-1n))).toThrow(RangeError)
  })

  it.each<[string, string]>(normal)('normal below %s', (z, share) => {
    expect(text(normalBelow(amount(z)))).toBe(share)
  })

  it.each<[string, number, string]>(student)('Student below %s, %i degrees of freedom', (t, freedom, share) => {
    expect(text(tBelow(amount(t), freedom))).toBe(share)
  })

  it.each<[string, number, string, string, string]>(shown)('%s with %i digits', (of, digits, ...texts) => {
    expect([significant, roundUp, roundDown].map((show) => show(amount(of), digits))).toEqual(texts)
  })
})
