// How a measurement sheet shows numbers and what it calls things. The twin of trade/sheets/words.py.

import { by, compare, minus, times, whole } from '../ground/amounts.ts'
import { roundUp, significant, sqrt } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import { PLACES } from '../measuring/figures.ts'
import type { Rules } from '../measuring/rules.ts'
import { exact } from '../ground/described.ts'
import { decimalText, fraction, fromSi, read, toSi, UNITS, type Fraction } from '../ground/units.ts'

export const STATES: Record<string, string> = {
  as_found: say('sheets.as_found'),
  machined: say('sheets.machined'),
  built: say('sheets.built'),
}
// A figure may rest on one read in an earlier state, never on a later one: a journal left alone is as it was found.
export const EARLIER: Record<string, string[]> = {
  as_found: ['as_found'],
  machined: ['machined', 'as_found'],
  built: ['built', 'machined', 'as_found'],
}
// A figure as found is not yet machined: what machining must reach does not judge it.
export const SORTS: Record<string, string[]> = {
  as_found: ['new', 'service'],
  machined: ['machining', 'new', 'service'],
  built: ['machining', 'new', 'service'],
}
export const SINGLE = say('sheets.single')

const PLAIN = /^-?[0-9]+(?:\.([0-9]+))?$/
const NUMBER = /^[+\-\u2212]?[0-9.,/\s]*[0-9]/

/** The digits as typed, without a unit that was typed behind them: "2.2440 in" -> "2.2440". */
export function numberPart(typed: string): string {
  return NUMBER.exec(typed.trim())?.[0] ?? typed.trim()
}

/**
 * A number as a sheet shows it, and its decimals (null for a vulgar fraction). The mean of long readings, or one turned
 * into a smaller unit, has more digits than anybody may type, and must still be read.
 */
export function written(text: string): { amount: Fraction; places: number | null } {
  const plain = PLAIN.exec(text)
  return plain ? { amount: exact(text), places: plain[1]?.length ?? 0 } : read(text)
}

/** The size of one step of a unit in SI; a difference of temperatures has no offset. */
export function sizeOf(unit: string): Fraction {
  return minus(toSi(whole(1), unit), toSi(whole(0), unit))
}

export function usualPlaces(unit: string): number {
  return PLACES[unit] ?? 3
}

/** The unit that the workshop wants for a kind of value, else the one that was typed. */
export function shownUnit(kind: string, unit: string, rules: Rules): string {
  return (rules as unknown as Record<string, string>)[`shown_${kind}`] || unit
}

/** Decimals in another unit, so that its last digit is no coarser than the last digit was. */
export function shownPlaces(places: number, unit: string, into: string): number {
  if (unit === into) return places
  const step = by(sizeOf(unit), fraction(10n ** BigInt(places)))
  const last = sizeOf(into)
  let count = 0
  while (count < 9 && compare(by(last, fraction(10n ** BigInt(count))), step) > 0) count += 1
  return count
}

/** An amount in SI as the digits shown in `unit`. */
export function amountText(amount: Fraction, unit: string, places: number): string {
  return decimalText(fromSi(amount, unit), places)
}

/** A standard deviation, two digits that count, from its square in SI. */
export function spreadText(variance: Fraction, unit: string): string {
  return significant(by(sqrt(variance), sizeOf(unit)), 2)
}

/** U = k·u in `unit`, rounded up to two digits that count, so that it never claims more than is known. */
export function expandedText(variance: Fraction, k: Fraction, unit: string): string {
  return roundUp(by(times(k, sqrt(variance)), sizeOf(unit)), 2)
}

const FEW = fraction(1n, 1000n)
const NEARLY_ALL = fraction(999n, 1000n)

/** A share as per cent; a small one is said to be small and never to be nothing. */
export function shareText(share: Fraction): string {
  return share.over > 0n && compare(share, FEW) < 0 ? '< 0.1' : decimalText(times(share, whole(100)), 1)
}

/** A probability as per cent; nothing is ever said to be certain. */
export function probabilityText(probability: Fraction): string {
  if (compare(probability, NEARLY_ALL) > 0) return '> 99.9'
  return compare(probability, FEW) < 0 ? '< 0.1' : decimalText(times(probability, whole(100)), 1)
}

/** A shown number as a plain one, only for placing ink. */
export function ink(text: string): number {
  return Number(text)
}

export function kindOf(unit: string): string {
  return UNITS[unit]!.kind
}

/** Order by code points, as the server sorts text. */
export function byText(a: string, b: string): number {
  if (a === b) return 0
  // Halves of a character sort otherwise than the characters they make.
  if (!/[\ud800-\udfff]/.test(a + b)) return a < b ? -1 : 1
  const [first, second] = [[...a], [...b]]
  const at = first.findIndex((code, i) => code !== second[i])
  if (at < 0) return first.length - second.length
  return at >= second.length ? 1 : first[at]!.codePointAt(0)! - second[at]!.codePointAt(0)!
}

/** "3/4" as a fraction. */
export function readFraction(text: string): Fraction {
  const [over, under = '1'] = text.split('/')
  return fraction(BigInt(over!), BigInt(under))
}
