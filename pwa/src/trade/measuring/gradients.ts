// The operations of a procedure's lines, each worked together with its exact partial derivatives.
// The twin of trade/measuring/gradients.py.

import { by, compare, minus, negative, NOTHING, plus, square, times } from '../ground/amounts.ts'
import { PI } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import { fraction, type Fraction } from '../ground/units.ts'

/** How an amount was typed: kind, unit, decimals (null for a vulgar fraction), and whether it is a reading. */
export interface Typed {
  kind: string
  unit: string
  places: number | null
  reading: boolean
}

/**
 * An amount in SI and what it comes from. `finer`: averaged or divided, so one decimal more is worth showing;
 * `computed`: its unit was made by the operation, so nobody typed its decimals.
 */
export interface Value {
  amount: Fraction
  weights: Map<string, Fraction>
  picked: Set<string>
  typed: Typed[]
  finer: boolean
  computed: boolean
}

/** No amount: the names that are missing, or the reason. `may`: each of them may be missing. */
export interface Gap {
  missing: string[]
  may: boolean
  typed: Typed[]
}

export type Held = Value | Gap
export type Term = [factor: Fraction, value: Value]

const ONE = fraction(1n)
export const THOUSAND = fraction(1000n)
const HALF = fraction(1n, 2n)

/** The amount without its sign. */
export const size = (a: Fraction): Fraction => (a.over < 0n ? negative(a) : a)

/** The number in a text such as 3/4, -2 or 75.5, as procedures and rules hold it. */
export function fractionOf(text: string): Fraction {
  const [over, under = '1'] = text.split('/') as [string, string?]
  const [whole, decimals = ''] = over.split('.') as [string, string?]
  return fraction(BigInt(whole + decimals), BigInt(under) * 10n ** BigInt(decimals.length))
}

export const isGap = (held: Held): held is Gap => 'missing' in held
const isValue = (held: Held): held is Value => !isGap(held)

export function value(amount: Fraction, typed: Typed[] = [], reading?: string): Value {
  const names = reading === undefined ? [] : [reading]
  const weights = new Map(names.map((name) => [name, ONE]))
  return { amount, weights, picked: new Set(names), typed, finer: false, computed: false }
}

function gapOf(gaps: Gap[], of: Held[]): Gap {
  const names = new Set(gaps.flatMap((gap) => gap.missing))
  return { missing: [...names], may: gaps.every((gap) => gap.may), typed: typedOf(of) }
}

function typedOf(of: Held[]): Typed[] {
  return [...new Set(of.flatMap((held) => held.typed))]
}

/** A value whose derivative is the sum of the terms' (factor, value). */
function made(amount: Fraction, terms: Term[], of: Held[], finer = false, computed = false): Value {
  const weights = new Map<string, Fraction>()
  for (const [factor, term] of terms) {
    for (const [name, weight] of term.weights) {
      weights.set(name, plus(weights.get(name) ?? NOTHING, times(factor, weight)))
    }
  }
  for (const [name, weight] of weights) if (weight.over === 0n) weights.delete(name)
  const values = of.filter(isValue)
  return {
    amount,
    weights,
    picked: new Set(terms.flatMap(([, term]) => [...term.picked])),
    typed: typedOf(of),
    finer: finer || values.some((value) => value.finer),
    computed: computed || values.some((value) => value.computed),
  }
}

/** The values that are there; a gap when one is missing that may not be, or when fewer than `least` are left. */
function there(of: Held[], least = 1): Value[] | Gap {
  const gaps = of.filter(isGap)
  const values = of.filter(isValue)
  const must = gaps.filter((gap) => !gap.may)
  return must.length || values.length < least ? gapOf(must.length ? must : gaps, of) : values
}

/** All values, or a gap when any is missing. */
function strict(of: Held[]): Value[] | Gap {
  const gaps = of.filter(isGap)
  return gaps.length ? gapOf(gaps, of) : of.filter(isValue)
}

/** The first of those for which `worth` is largest. */
function best<T>(list: T[], worth: (member: T) => Fraction): T {
  return list.reduce((greatest, member) => (compare(worth(member), worth(greatest)) > 0 ? member : greatest))
}

function linear(terms: Term[], of: Held[], finer = false): Value {
  return made(terms.reduce((sum, [factor, term]) => plus(sum, times(factor, term.amount)), NOTHING), terms, of, finer)
}

/** The largest; the smallest with `sign` -1. Of equal ones the first counts. */
export function largest(of: Held[], sign: 1 | -1 = 1): Held {
  const values = there(of)
  if (!Array.isArray(values)) return values
  const extreme = best(values, (member) => (sign === 1 ? member.amount : negative(member.amount)))
  return made(extreme.amount, [[ONE, extreme]], of)
}

export function spread(of: Held[]): Held {
  const values = there(of, 2)
  if (!Array.isArray(values)) return values
  const top = best(values, (member) => member.amount)
  // Never the same one twice: equal readings have a spread of zero, yet both are uncertain.
  const rest = values.filter((_, i) => i !== values.indexOf(top))
  const low = best(rest, (member) => negative(member.amount))
  return linear([[ONE, top], [negative(ONE), low]], of)
}

export function mean(of: Held[]): Held {
  const values = there(of)
  if (!Array.isArray(values)) return values
  const share = fraction(1n, BigInt(values.length))
  return linear(values.map((value) => [share, value]), of, true)
}

export function add(of: Held[]): Held {
  const values = strict(of)
  return Array.isArray(values) ? linear(values.map((value) => [ONE, value]), of) : values
}

export function scaled(held: Held, share: Fraction): Held {
  return isGap(held) ? held : linear([[share, held]], [held], true)
}

export function difference(first: Held, second: Held): Held {
  const values = strict([first, second])
  return Array.isArray(values) ? linear([[ONE, values[0]!], [negative(ONE), values[1]!]], values) : values
}

export function distance(first: Held, second: Held): Held {
  const values = strict([first, second])
  if (!Array.isArray(values)) return values
  const [a, b] = values as [Value, Value]
  const sign = compare(a.amount, b.amount) < 0 ? negative(ONE) : ONE
  return linear([[sign, a], [negative(sign), b]], values)
}

export function product(first: Held, second: Held): Held {
  const values = strict([first, second])
  if (!Array.isArray(values)) return values
  const [a, b] = values as [Value, Value]
  return made(times(a.amount, b.amount), [[b.amount, a], [a.amount, b]], values, true)
}

/** per · first / second. `words` names the divisor, for the reason when it is zero. */
export function quotient(first: Held, second: Held, words: string, sameKind = false, per = ONE): Held {
  const values = strict([first, second])
  if (!Array.isArray(values)) return values
  const [a, b] = values as [Value, Value]
  if (b.amount.over === 0n) return { missing: [say('measuring.divisor_zero', { divisor: words })], may: false, typed: typedOf(values) }
  const result = by(times(per, a.amount), b.amount)
  const terms: Term[] = [[by(per, b.amount), a], [negative(by(result, b.amount)), b]]
  return made(result, terms, values, !sameKind, sameKind)
}

export function cylinderVolume(diameter: Held, length: Held): Held {
  const values = strict([diameter, length])
  if (!Array.isArray(values)) return values
  const [d, height] = values as [Value, Value]
  const quarter = by(PI, fraction(4n))
  const face = times(quarter, square(d.amount))
  const edge = times(by(PI, fraction(2n)), times(d.amount, height.amount))
  return made(times(face, height.amount), [[edge, d], [face, height]], values, false, true)
}

export function ratioOfVolumes(swept: Held, clearance: Held, words: string): Held {
  const values = strict([swept, clearance])
  if (!Array.isArray(values)) return values
  const [s, c] = values as [Value, Value]
  if (c.amount.over === 0n) return { missing: [say('measuring.divisor_zero', { divisor: words })], may: false, typed: typedOf(values) }
  const terms: Term[] = [
    [by(ONE, c.amount), s],
    [negative(by(s.amount, square(c.amount))), c],
  ]
  return made(by(plus(s.amount, c.amount), c.amount), terms, values, false, true)
}

/** The member nearest to the value: a stated size, so it does not move with the readings. */
export function nearest(held: Held, members: Value[], name: string): Held {
  if (isGap(held) || !members.length) {
    const gaps = isGap(held) ? [held] : []
    if (!members.length) gaps.push({ missing: [name], may: false, typed: [] })
    return gapOf(gaps, [held, ...members])
  }
  const away = (member: Value) => size(minus(member.amount, held.amount))
  const closest = members.reduce((so, member) => {
    const order = compare(away(member), away(so)) || compare(member.amount, so.amount)
    return order < 0 ? member : so
  })
  return { ...value(closest.amount, typedOf([held, ...members])), picked: held.picked }
}

export function largestSpread(groups: Held[][]): Held {
  return largestOf(groups.map((group) => spread(group)), groups)
}

export function largestDrop(groups: Held[][]): Held {
  return largestOf(groups.map((group) => difference(group[0]!, group.at(-1)!)), groups)
}

export function middleLessEnds(groups: Held[][]): Held {
  const ofGroup = (group: Held[]): Held => {
    const values = strict(group)
    if (!Array.isArray(values)) return values
    const [first, middle, last] = values as [Value, Value, Value]
    return linear([[negative(HALF), first], [ONE, middle], [negative(HALF), last]], values, true)
  }
  return largestOf(groups.map(ofGroup), groups)
}

/** The result largest in size, the first of equal ones; groups that lack only what may be missing are left out. */
function largestOf(results: Held[], groups: Held[][]): Held {
  const every = groups.flat()
  const must = every.filter(isGap).filter((gap) => !gap.may)
  if (must.length) return gapOf(must, every)
  const values = there(results)
  if (!Array.isArray(values)) return gapOf([values], every)
  const chosen = best(values, (member) => size(member.amount))
  return made(chosen.amount, [[ONE, chosen]], every, chosen.finer)
}
