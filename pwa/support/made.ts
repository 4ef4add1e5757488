// For tests: readings and what is open from the plain JSON of tests/vectors, as tests/support/made.py has them.

import { readFileSync } from 'node:fs'
import { exact } from '../src/trade/ground/described.ts'
import { type Gauge, inSi } from '../src/trade/measuring/gauges.ts'
import { DEFAULT } from '../src/trade/measuring/rules.ts'
import { expansion, type Made } from '../src/trade/measuring/uncertainty.ts'
import { type Fraction, fraction, toSi } from '../src/trade/ground/units.ts'
import type { Unproven } from '../src/trade/measuring/unproven.ts'

export const vectors = (file: string) =>
  JSON.parse(readFileSync(new URL(`../../tests/vectors/${file}`, import.meta.url), 'utf8'))

/** From "7/2", "-0.5" or "3"; null stays null. */
export function amount(text: string): Fraction
export function amount(text: string | null): Fraction | null
export function amount(text: string | null): Fraction | null {
  if (text === null) return null
  const [over, under] = text.split('/') as [string, string?]
  return under ? fraction(BigInt(over), BigInt(under)) : exact(over)
}

export const text = (fraction: Fraction | null): string | null => fraction && `${fraction.over}/${fraction.under}`

export function made(given: any, register: Record<string, Gauge>): Made {
  const gauge = register[given.gauge ?? '']
  return {
    code: given.code,
    amounts: given.values.map((value: string) => toSi(amount(value), given.unit)),
    gauge: gauge ? inSi(gauge) : null,
    gaugeName: given.gauge_name,
    partC: amount(given.part_c),
    gaugeC: amount(given.gauge_c),
    alpha: expansion(given.material),
    words: given.words,
    unit: given.unit,
  }
}

export const each = <One, Other>(all: Record<string, One>, turn: (value: One) => Other): Record<string, Other> =>
  Object.fromEntries(Object.entries(all).map(([name, value]) => [name, turn(value)]))

export function unproven(vector: any, register: Record<string, Gauge>): Unproven {
  const end = (typed: string) => (typed ? toSi(amount(typed), vector.unit) : null)
  return {
    amount: amount(vector.amount),
    low: end(vector.low),
    high: end(vector.high),
    weights: each<string, Fraction>(vector.weights, amount),
    made: each(vector.made, (given) => made(given, register)),
    rules: { ...DEFAULT, ...vector.rules },
    unit: vector.unit,
  }
}
