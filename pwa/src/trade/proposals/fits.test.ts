import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { compare, exactText, inUnit, times } from '../ground/amounts.ts'
import { actual, beyond, fit, limits, microns, readCode } from './fits.ts'
import { fraction, read, toSi } from '../ground/units.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/fits.json', import.meta.url), 'utf8'))
const mm = (text: string) => toSi(read(text).amount, 'mm')
const exact = (pair: { over: string; under: string }) => fraction(BigInt(pair.over), BigInt(pair.under))

describe('limits and fits', () => {
  it.each<any>(vectors.codes)('reads "$typed"', (vector) => {
    if (vector.refused) return expect(() => readCode(vector.typed)).toThrow(vector.refused)
    const { nominal, size, hole, shaft } = readCode(vector.typed)
    expect({ nominal, size, hole, shaft }).toEqual({ ...vector, typed: undefined, nominal: exact(vector.nominal) })
  })

  it.each([' '.repeat(20_000) + 'H', `20${' '.repeat(3_000)}H7${' '.repeat(3_000)}x`, 'H'.repeat(5_000)])('refuses at once what is no code, however long', (typed) => {
    expect(() => readCode(typed)).toThrow('is not a size with a tolerance')
  })

  it.each<string[]>(vectors.limits)('%s %s', (size, code, ...words) => {
    if (words.length === 1) return expect(() => limits(mm(size!), code!)).toThrow(words[0])
    const zone = limits(mm(size!), code!)
    expect([microns(zone.lower, true), microns(zone.upper, true)]).toEqual(words)
  })

  it.each<[string, Record<string, string>]>(Object.entries(vectors.published))('%s as published', (code, cells) => {
    for (const [size, published] of Object.entries(cells)) {
      const { upper, lower } = limits(mm(size), code)
      const wanted = published.split('/').map((limit) => times(read(limit).amount, fraction(1n, 1_000_000n)))
      expect([upper, lower].map((limit, i) => compare(limit, wanted[i]!)), size).toEqual([0, 0])
    }
  })

  it.each<any>(vectors.fits)('$typed', (vector) => {
    const code = readCode(vector.typed)
    const [hole, shaft] = [limits(code.nominal, code.hole), limits(code.nominal, code.shaft)]
    const made = fit(hole, shaft)
    expect([inUnit(hole.smallest, 'mm', 3), inUnit(hole.largest, 'mm', 3)]).toEqual(vector.hole)
    expect([inUnit(shaft.smallest, 'mm', 3), inUnit(shaft.largest, 'mm', 3)]).toEqual(vector.shaft)
    expect([microns(made.least, true), microns(made.greatest, true), made.kind]).toEqual([vector.least, vector.greatest, vector.kind])
  })

  it.each<any>(vectors.actual)('$code made $hole and $shaft', (vector) => {
    const code = readCode(vector.code)
    const made = actual(mm(vector.hole), mm(vector.shaft))
    expect([microns(made.least, true), made.kind]).toEqual([vector.clearance, vector.kind])
    expect(microns(beyond(mm(vector.hole), limits(code.nominal, code.hole)), true)).toBe(vector.hole_beyond)
    expect(microns(beyond(mm(vector.shaft), limits(code.nominal, code.shaft)), true)).toBe(vector.shaft_beyond)
  })

  it.each<any>(vectors.exact)('an amount is shown with the decimals it needs: $shown', (vector) => {
    expect(exactText(exact(vector.amount), vector.least)).toBe(vector.shown)
  })
})
