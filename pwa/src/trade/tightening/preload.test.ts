import { describe, expect, it } from 'vitest'
import { amount, vectors } from '../../../support/made.ts'
import { times, whole } from '../ground/amounts.ts'
import { advance, atYield, estimate, forceText, frictionOf, type Spread, tooMuch } from './preload.ts'
import { ofSheet } from './preload_estimate.ts'
import { MM, strength, thread } from './threads.ts'
import { decimalText, type Fraction, fraction, toSi } from '../ground/units.ts'

const cases = vectors('preload.json')
const shown = (one: Fraction | null, scale: Fraction) => one && decimalText(times(one, scale), 9)
const [THOUSAND, MILLION] = [whole(1000), whole(1_000_000)]
const [KILO, MEGA] = [fraction(1n, 1000n), fraction(1n, 1_000_000n)]
const three = ({ usual, low, high }: Spread) => [usual, low, high].map((one) => shown(one, KILO))

describe('threads and preload, as on the server', () => {
  it.each<any>(cases.threads)('$size $beside', (one) => {
    const found = () => thread(one.size, one.beside)
    if (one.refused) return expect(found).toThrow(one.refused)
    const { stressArea, ...of } = found()
    const lengths = {
      diameter: of.diameter,
      pitch: of.pitch,
      pitch_diameter: of.pitchDiameter,
      minor_diameter: of.minorDiameter,
      root_diameter: of.rootDiameter,
      stress_diameter: of.stressDiameter,
      bearing: of.bearing,
    }
    for (const [name, length] of Object.entries(lengths)) expect(shown(length, THOUSAND), name).toBe(one[name])
    expect(shown(stressArea, MILLION)).toBe(one.stress_area)
    expect([of.words, of.form, of.bearingKnown, of.usual, of.coarse]).toEqual(
      ['words', 'form', 'bearing_known', 'usual', 'coarse'].map((name) => one[name]),
    )
  })

  it.each<any>(cases.strengths)('$code at $diameter mm', (one) => {
    const found = strength(one.code, times(amount(one.diameter), MM))
    const stresses = found && [found.tensile, found.yields, found.proof].map((stress) => shown(stress, MEGA))
    expect(found && [found.code, ...stresses!]).toEqual(one.strength)
  })

  it.each<any>(cases.estimates)('$torque $unit on $size, $state', (one) => {
    const of = thread(one.size, one.pitch)
    const strong = strength(one.class, of.diameter)
    const torque = toSi(amount(one.torque), one.unit)
    const made = () => estimate(torque, of, frictionOf(one.state, one.friction), strong)
    if (one.refused) return expect(made).toThrow(one.refused)
    const friction = frictionOf(one.state, one.friction)
    expect([friction.condition, [friction.kTyped, friction.typed]]).toEqual([one.condition, one.typed])
    const { short, long, proof, yields, breaks } = made()
    expect([three(short), three(long)]).toEqual([one.short, one.long])
    expect([proof, yields, breaks].map((load) => shown(load, KILO))).toEqual(one.loads)
    const full = strong && atYield(of, strong.yields, friction.thread.usual)
    expect(shown(full, KILO)).toBe(one.at_yield)
    expect([tooMuch(made(), of, strong), forceText(short.usual, of)]).toEqual([one.too_much, one.text])
  })

  it.each<any>(cases.advances)('$degrees ° on a pitch of $pitch', (one) => {
    expect(shown(advance(times(amount(one.pitch), MM), amount(one.degrees)), THOUSAND)).toBe(one.advance)
  })

  it.each<any>(cases.sheets)('$name', (one) => {
    expect(ofSheet(one.sheet)).toEqual(one.said)
  })
})
