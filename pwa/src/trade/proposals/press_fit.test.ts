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
  it.each<any>(vectors.press)('$name', (one) => {
    const made = () =>
      press(mm(one.seat), mm(one.interference), mm(one.hub_outer), metal(one.hub), mm(one.shaft_inner), metal(one.shaft))
    if (one.refused) return expect(made).toThrow(one.refused)
    const { pressure, hubHoop, shaftHoop, shaftBoreHoop, closing } = made()
    expect([pressure, hubHoop, shaftHoop, shaftBoreHoop].map((stress) => shown(stress, MEGA))).toEqual([
      one.pressure,
      one.hub_hoop,
      one.shaft_hoop,
      one.shaft_bore_hoop,
    ])
    expect(shown(closing, whole(1_000_000))).toBe(one.closing)
    const axial = force(pressure, mm(one.seat), mm(one.length), exact(one.friction))
    expect([shown(axial, whole(1)), shown(torque(axial, mm(one.seat)), whole(1))]).toEqual([one.force, one.torque])
  })

  it.each<any>(vectors.heat)('$name', (one) => {
    const [hub, shaft, cold] = [millionths(one.alpha_hub), millionths(one.alpha_shaft), exact(one.shaft_c)]
    const made = () => heatForSlip(mm(one.seat), mm(one.interference), mm(one.slip), hub, shaft, cold)
    if (one.refused) return expect(made).toThrow(one.refused)
    expect([decimalText(made(), 6), heatCautions(made(), cold).length]).toEqual([one.hub_c, one.cautions])
  })

  it.each<any>(vectors.growth)('$diameter mm by $kelvin K', (one) => {
    const grown = growth(mm(one.diameter), millionths(one.alpha), exact(one.kelvin))
    expect(decimalText(times(grown, whole(1000)), 6)).toBe(one.growth)
  })
})
