import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { compare, exactText, inUnit, times } from '../ground/amounts.ts'
import { actual, beyond, fit, limits, microns, readCode } from './fits.ts'
import { fraction, read, toSi } from '../ground/units.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/fits.json', import.meta.url), 'utf8'))
const mm = (text: string) => toSi(read(text).amount, 'mm')
const exact = (pair: { over: string; under: string }) => fraction(BigInt(pair.over), BigInt(pair.under))

describe('limits and fits', () => {
  it.each<any>(vectors.codes)('reads "$typed"', (one) => {
    if (one.refused) return expect(() => readCode(one.typed)).toThrow(one.refused)
    const { nominal, size, hole, shaft } = readCode(one.typed)
    expect({ nominal, size, hole, shaft }).toEqual({ ...one, typed: undefined, nominal: exact(one.nominal) })
  })

  it.each([' '.repeat(20_000) + 'H', `20${' '.repeat(3_000)}H7${' '.repeat(3_000)}x`, 'H'.repeat(5_000)])('refuses at once what is no code, however long', (typed) => {
    expect(() => readCode(typed)).toThrow('is not a size with a tolerance')
  })

  it.each<string[]>(vectors.limits)('%s %s', (size, code, ...said) => {
    if (said.length === 1) return expect(() => limits(mm(size!), code!)).toThrow(said[0])
    const zone = limits(mm(size!), code!)
    expect([microns(zone.lower, true), microns(zone.upper, true)]).toEqual(said)
  })

  it.each<[string, Record<string, string>]>(Object.entries(vectors.published))('%s as published', (code, cells) => {
    for (const [size, published] of Object.entries(cells)) {
      const { upper, lower } = limits(mm(size), code)
      const wanted = published.split('/').map((one) => times(read(one).amount, fraction(1n, 1_000_000n)))
      expect([upper, lower].map((one, i) => compare(one, wanted[i]!)), size).toEqual([0, 0])
    }
  })

  it.each<any>(vectors.fits)('$typed', (one) => {
    const code = readCode(one.typed)
    const [hole, shaft] = [limits(code.nominal, code.hole), limits(code.nominal, code.shaft)]
    const made = fit(hole, shaft)
    expect([inUnit(hole.smallest, 'mm', 3), inUnit(hole.largest, 'mm', 3)]).toEqual(one.hole)
    expect([inUnit(shaft.smallest, 'mm', 3), inUnit(shaft.largest, 'mm', 3)]).toEqual(one.shaft)
    expect([microns(made.least, true), microns(made.greatest, true), made.kind]).toEqual([one.least, one.greatest, one.kind])
  })

  it.each<any>(vectors.actual)('$code made $hole and $shaft', (one) => {
    const code = readCode(one.code)
    const made = actual(mm(one.hole), mm(one.shaft))
    expect([microns(made.least, true), made.kind]).toEqual([one.clearance, one.kind])
    expect(microns(beyond(mm(one.hole), limits(code.nominal, code.hole)), true)).toBe(one.hole_beyond)
    expect(microns(beyond(mm(one.shaft), limits(code.nominal, code.shaft)), true)).toBe(one.shaft_beyond)
  })

  it.each<any>(vectors.exact)('an amount is shown with the decimals it needs: $shown', (one) => {
    expect(exactText(exact(one.amount), one.least)).toBe(one.shown)
  })
})
