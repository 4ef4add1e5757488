// How the workshop judges and shows what it measures. The twin of trade/measuring_rules.py.

import { compare } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import type { Fault } from '../ground/errors.ts'
import * as shapes from '../ground/shapes.ts'
import { fraction, UNITS } from '../ground/units.ts'

export type Rule = 'guarded' | 'guarded_95' | 'simple'

export interface Rules {
  rule: Rule
  /** The unit to show a kind in, "" as typed. */
  shown_length: string
  shown_pressure: string
  shown_volume: string
  shown_torque: string
  shown_temperature: string
  /** Per cent of the highest cylinder that the others should reach. */
  compression_share: string
  /** K: a temperature taken in the workshop is right to plus or minus this. */
  temperature_half_width: string
  /** Per cent: so is a coefficient of expansion from a table. */
  expansion_half_width: string
  note: string
}

export const RULES: Record<Rule, string> = {
  guarded: 'guarded acceptance: inside the limit by U, k about 2 (ISO 14253-1 up to 2013; ILAC-G8, w = U)',
  guarded_95: 'guarded acceptance: 95 % sure to be inside, 1.65 u (ISO 14253-1:2017)',
  simple: 'simple acceptance: the value alone decides, its uncertainty is not taken off the limit',
}
export const DEFAULT: Rules = {
  rule: 'guarded',
  shown_length: '',
  shown_pressure: '',
  shown_volume: '',
  shown_torque: '',
  shown_temperature: '',
  compression_share: '75',
  temperature_half_width: '1',
  expansion_half_width: '10',
  note: '',
}

const HUNDRED = fraction(100n)
const KINDS = ['length', 'pressure', 'volume', 'torque', 'temperature']

const unitsOf = (kind: string) => Object.keys(UNITS).filter((one) => UNITS[one]!.kind === kind)

const FIELDS: described.Field[] = [
  ['rule', 'The rule', described.oneOf(Object.keys(RULES), 'is none of guarded, guarded_95 and simple')],
  ...KINDS.map((kind): described.Field => [
    `shown_${kind}`,
    `The unit for ${kind}`,
    described.oneOf(['', ...unitsOf(kind)], `is no unit of ${kind}`),
  ]),
  ['compression_share', 'The share of the highest compression', described.number],
  ['temperature_half_width', 'The half width of a temperature', described.number],
  ['expansion_half_width', 'The half width of an expansion', described.number],
  ['note', 'The note', shapes.text(500)],
]

/** All faults of measuring rules, none when they can be used. Never throws, whatever it is given. */
export function check(rules: unknown): Fault[] {
  const faults = described.faultsOf(rules, FIELDS, 'rules', 'The measuring rules')
  if (faults.length) return faults
  const given = rules as Rules
  const add = (where: string, message: string) => faults.push({ where, message })
  const share = described.exact(given.compression_share)
  if (share.over <= 0n || compare(share, HUNDRED) > 0) {
    add('compression_share', 'The share of the highest compression lies above 0 and up to 100 %.')
  }
  if (described.exact(given.temperature_half_width).over < 0n) {
    add('temperature_half_width', 'The half width of a temperature is not below zero.')
  }
  const expansion = described.exact(given.expansion_half_width)
  if (expansion.over < 0n || compare(expansion, HUNDRED) > 0) {
    add('expansion_half_width', 'The half width of an expansion lies from 0 to 100 %.')
  }
  return faults
}
