// What all things have in common that the workshop describes in its own words. The twin of trade/described.py.

import { compare } from './amounts.ts'
import type { Fault } from '../ground/errors.ts'
import * as shapes from './shapes.ts'
import type { Check } from './shapes.ts'
import { type Fraction, fraction, UNITS } from './units.ts'

/** Name in the record, name in a sentence, its check. */
export type Field = [name: string, words: string, check: Check]

const DAY = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/

/** The faults of a record that must have exactly these fields. `thing` names it in a sentence ("A gauge"). */
export function faultsOf(given: unknown, fields: Field[], where: string, thing: string): Fault[] {
  if (!shapes.isObject(given)) {
    return [{ where, message: `${thing} is an object with fields; this is something else.` }]
  }
  const faults: Fault[] = []
  const known = new Set(fields.map(([name]) => name))
  for (const name of Object.keys(given).filter((one) => !known.has(one)).sort()) {
    faults.push({ where: name, message: `${name} is a field that nobody knows.` })
  }
  for (const [name] of fields) {
    if (!Object.hasOwn(given, name)) faults.push({ where: name, message: `${name} is missing.` })
  }
  for (const [name, words, against] of fields) {
    const reason = Object.hasOwn(given, name) && against(given[name])
    if (reason) faults.push({ where: name, message: `${words} ${reason}.` })
  }
  return faults
}

/** A number as text with a decimal point, exact as written. */
export const number: Check = (value) => (shapes.decimal(value) ? 'is not a number such as 0.003' : null)
export const numberOrNothing: Check = (value) => (value === '' ? null : number(value))

/** A day of the calendar: 2026-05-14. */
export const day: Check = (value) => {
  const found = typeof value === 'string' ? DAY.exec(value) : null
  // The calendar is in the check of times already.
  return found && !shapes.time(`${value}T00:00:00.000Z`) ? null : 'is not a day such as 2026-05-14'
}
export const dayOrNothing: Check = (value) => (value === '' ? null : day(value))

export const unit: Check = (value) =>
  typeof value === 'string' && Object.hasOwn(UNITS, value) ? null : 'is no unit that is known here'

export function oneOf(words: string[], reason: string): Check {
  return (value) => (typeof value === 'string' && words.includes(value) ? null : reason)
}

/** The exact number of decimal text that was checked. */
export function exact(text: string): Fraction {
  const [whole, decimals = ''] = text.split('.') as [string, string?]
  return fraction(BigInt(whole + decimals), 10n ** BigInt(decimals.length))
}

/** The number of a field that was checked, null for an empty one. */
export const amount = (text: string): Fraction | null => (text ? exact(text) : null)

/** True when both ends are given and the lower lies above the upper. */
export const upsideDown = (low: string, high: string): boolean =>
  low !== '' && high !== '' && compare(exact(low), exact(high)) > 0
