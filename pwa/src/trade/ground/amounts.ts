// Counting with exact amounts, and showing them with as many decimals as they need: the twin of trade/ground/amounts.py.

import { decimalText, type Fraction, fraction, fromSi } from './units.ts'

const MOST_PLACES = 6
export const NOTHING: Fraction = fraction(0n)

export const whole = (n: number): Fraction => fraction(BigInt(n))
export const plus = (a: Fraction, b: Fraction): Fraction =>
  fraction(a.over * b.under + b.over * a.under, a.under * b.under)
export const negative = (a: Fraction): Fraction => ({ ...a, over: -a.over })
export const minus = (a: Fraction, b: Fraction): Fraction => plus(a, negative(b))
export const times = (a: Fraction, b: Fraction): Fraction => fraction(a.over * b.over, a.under * b.under)
export const by = (a: Fraction, b: Fraction): Fraction => fraction(a.over * b.under, a.under * b.over)
export const square = (a: Fraction): Fraction => times(a, a)
/** Below, at or above zero as a is less than, equal to or more than b. */
export const compare = (a: Fraction, b: Fraction): number => {
  const difference = a.over * b.under - b.over * a.under
  return difference < 0n ? -1 : difference > 0n ? 1 : 0
}
export const largest = (all: Fraction[]): Fraction => all.reduce((a, b) => (compare(b, a) > 0 ? b : a))
export const smallest = (all: Fraction[]): Fraction => all.reduce((a, b) => (compare(b, a) < 0 ? b : a))
/** For placing ink only. */
export const asNumber = (a: Fraction): number => Number(a.over) / Number(a.under)

/** The amount in decimals: at least `least` of them, more where it needs them to be exact, rounded at the sixth. */
export function exactText(amount: Fraction, least = 0): string {
  let places = least
  while (places < MOST_PLACES && (amount.over * 10n ** BigInt(places)) % amount.under !== 0n) places += 1
  return decimalText(amount, places)
}

/** An amount in SI, written out in `unit` with the unit: `86.500 mm`. */
export function inUnit(amount: Fraction, unit: string, least = 0): string {
  return `${exactText(fromSi(amount, unit), least)} ${unit}`.trimEnd()
}
