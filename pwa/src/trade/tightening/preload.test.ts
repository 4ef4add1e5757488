import { describe, expect, it } from 'vitest'
import { amount, vectors } from '../../../support/made.ts'
import { times, whole } from '../ground/amounts.ts'
import { advance, atYield, estimate, forceText, frictionOf, type Spread, tooMuch } from './preload.ts'
import { ofSheet } from './preload_estimate.ts'
import { MM, strength, thread } from './threads.ts'
import { decimalText, type Fraction, fraction, toSi } from '../ground/units.ts'

const cases = vectors('preload.json')
const shown = (value: Fraction | null, scale: Fraction) => value && decimalText(times(value, scale), 9)
const [THOUSAND, MILLION] = [whole(1000), whole(1_000_000)]
const [KILO, MEGA] = [fraction(1n, 1000n), fraction(1n, 1_000_000n)]
const three = ({ usual, low, high }: Spread) => [usual, low, high].map((value) => shown(value, KILO))

describe('threads and preload, as on the server', () => {
  it.each<any>(cases.threads)('$size $beside', (vector) => {
    const threadOf = () => thread(vector.size, vector.beside)
    if (vector.refused) return expect(threadOf).toThrow(vector.refused)
    const { stressArea, ...of } = threadOf()
    const lengths = {
      diameter: of.diameter,
      pitch: of.pitch,
      pitch_diameter: of.pitchDiameter,
      minor_diameter: of.minorDiameter,
      root_diameter: of.rootDiameter,
      stress_diameter: of.stressDiameter,
      bearing: of.bearing,
    }
    for (const [name, length] of Object.entries(lengths)) expect(shown(length, THOUSAND), name).toBe(vector[name])
    expect(shown(stressArea, MILLION)).toBe(vector.stress_area)
    expect([of.words, of.form, of.bearingKnown, of.usual, of.coarse]).toEqual(
      ['words', 'form', 'bearing_known', 'usual', 'coarse'].map((name) => vector[name]),
    )
  })

  it.each<any>(cases.strengths)('$code at $diameter mm', (vector) => {
    const grade = strength(vector.code, times(amount(vector.diameter), MM))
    const stresses = grade && [grade.tensile, grade.yields, grade.proof].map((stress) => shown(stress, MEGA))
    expect(grade && [grade.code, ...stresses!]).toEqual(vector.strength)
  })

  it.each<any>(cases.estimates)('$torque $unit on $size, $state', (vector) => {
    const of = thread(vector.size, vector.pitch)
    const strong = strength(vector.class, of.diameter)
    const torque = toSi(amount(vector.torque), vector.unit)
    const made = () => estimate(torque, of, frictionOf(vector.state, vector.friction), strong)
    if (vector.refused) return expect(made).toThrow(vector.refused)
    const friction = frictionOf(vector.state, vector.friction)
    expect([friction.condition, [friction.kTyped, friction.typed]]).toEqual([vector.condition, vector.typed])
    const { short, long, proof, yields, breaks } = made()
    expect([three(short), three(long)]).toEqual([vector.short, vector.long])
    expect([proof, yields, breaks].map((load) => shown(load, KILO))).toEqual(vector.loads)
    const full = strong && atYield(of, strong.yields, friction.thread.usual)
    expect(shown(full, KILO)).toBe(vector.at_yield)
    expect([tooMuch(made(), of, strong), forceText(short.usual, of)]).toEqual([vector.too_much, vector.text])
  })

  it.each<any>(cases.advances)('$degrees ° on a pitch of $pitch', (vector) => {
    expect(shown(advance(times(amount(vector.pitch), MM), amount(vector.degrees)), THOUSAND)).toBe(vector.advance)
  })

  it.each<any>(cases.sheets)('$name', (vector) => {
    expect(ofSheet(vector.sheet)).toEqual(vector.said)
  })
})
