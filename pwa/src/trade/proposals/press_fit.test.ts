import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { times, whole } from '../ground/amounts.ts'
import { force, growth, heatCautions, heatForSlip, press, torque } from './press_fit.ts'
import { decimalText, type Fraction, fraction, read, toSi } from '../ground/units.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/press_fit.json', import.meta.url), 'utf8'))
const exact = (text: string) => read(text).amount
const mm = (text: string) => toSi(exact(text), 'mm')
const millionths = (text: string) => times(exact(text), fraction(1n, 1_000_000n))
const metal = ([e, nu]: [string, string]) => ({ modulus: times(exact(e), whole(1_000_000_000)), poisson: exact(nu) })
const shown = (amount: Fraction | null, scale: Fraction) => amount && decimalText(times(amount, scale), 9)
const MEGA = fraction(1n, 1_000_000n)

describe('press and heat', () => {
  it.each<any>(vectors.press)('$name', (vector) => {
    const made = () =>
      press(mm(vector.seat), mm(vector.interference), mm(vector.hub_outer), metal(vector.hub), mm(vector.shaft_inner), metal(vector.shaft))
    if (vector.refused) return expect(made).toThrow(vector.refused)
    const { pressure, hubHoop, shaftHoop, shaftBoreHoop, closing } = made()
    expect([pressure, hubHoop, shaftHoop, shaftBoreHoop].map((stress) => shown(stress, MEGA))).toEqual([
      vector.pressure,
      vector.hub_hoop,
      vector.shaft_hoop,
      vector.shaft_bore_hoop,
    ])
    expect(shown(closing, whole(1_000_000))).toBe(vector.closing)
    const axial = force(pressure, mm(vector.seat), mm(vector.length), exact(vector.friction))
    expect([shown(axial, whole(1)), shown(torque(axial, mm(vector.seat)), whole(1))]).toEqual([vector.force, vector.torque])
  })

  it.each<any>(vectors.heat)('$name', (vector) => {
    const [hub, shaft, cold] = [millionths(vector.alpha_hub), millionths(vector.alpha_shaft), exact(vector.shaft_c)]
    const made = () => heatForSlip(mm(vector.seat), mm(vector.interference), mm(vector.slip), hub, shaft, cold)
    if (vector.refused) return expect(made).toThrow(vector.refused)
    expect([decimalText(made(), 6), heatCautions(made(), cold).length]).toEqual([vector.hub_c, vector.cautions])
  })

  it.each<any>(vectors.growth)('$diameter mm by $kelvin K', (vector) => {
    const grown = growth(mm(vector.diameter), millionths(vector.alpha), exact(vector.kelvin))
    expect(decimalText(times(grown, whole(1000)), 6)).toBe(vector.growth)
  })
})
