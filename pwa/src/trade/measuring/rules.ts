// How the workshop judges and shows what it measures, as the server's measuring/rules.py checks it.

import { say } from '../ground/say.ts'

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
  guarded: say('measuring.rule_guarded'),
  guarded_95: say('measuring.rule_guarded_95'),
  simple: say('measuring.rule_simple'),
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
