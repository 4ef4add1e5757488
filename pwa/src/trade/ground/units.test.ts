import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { convert, decimalText, fraction, fromSi, read, readQuantity, toSi, UNITS } from './units.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/units.json', import.meta.url), 'utf8'))

type Typed = {
  typed: string
  unit: string
  read?: { over: string; under: string; unit: string; places: number | null }
  refused?: string
  message?: string
}
type OfQuantity = { quantity: string; typed: string; unit: string; read?: string; refused?: string; message?: string }
type Conversion = { amount: string; unit: string; into: string; places: number; shown: string }

describe('a typed value stays as it was typed, what it means is exact', () => {
  it.each<Typed>(vectors.read)('"$typed" $unit', (vector) => {
    if (vector.refused) return expect(() => read(vector.typed, vector.unit)).toThrow(vector.message)
    const reading = read(vector.typed, vector.unit)
    expect(reading.text).toBe(vector.typed)
    expect({ over: String(reading.amount.over), under: String(reading.amount.under) }).toEqual({
      over: vector.read!.over,
      under: vector.read!.under,
    })
    expect([reading.unit, reading.places]).toEqual([vector.read!.unit, vector.read!.places])
  })

  it.each<OfQuantity>(vectors.quantities)('$quantity $typed $unit', (vector) => {
    if (vector.refused) return expect(() => readQuantity(vector.quantity, vector.typed, vector.unit)).toThrow(vector.message)
    expect(readQuantity(vector.quantity, vector.typed, vector.unit).unit).toBe(vector.read)
  })

  // NIST SP 811 (2008) appendix B; inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2.
  it.each<Conversion>(vectors.conversions)('$amount $unit is $shown $into', (vector) => {
    expect(decimalText(convert(read(vector.amount).amount, vector.unit, vector.into), vector.places)).toBe(vector.shown)
  })

  it.each<[string, string]>(vectors.no_conversion)('%s is never turned into %s', (unit, into) => {
    expect(() => convert(fraction(1n), unit, into)).toThrow('cannot be converted to')
  })

  it.each<{ over: string; under: string; places: number; shown: string }>(vectors.rounding)('$over/$under', (vector) => {
    expect(decimalText(fraction(BigInt(vector.over), BigInt(vector.under)), vector.places)).toBe(vector.shown)
  })

  it.each(Object.keys(UNITS))('there and back loses nothing: "%s"', (unit) => {
    const amount = fraction(-123456789n, 977n)
    expect(fromSi(toSi(amount, unit), unit)).toEqual(amount)
  })
})
