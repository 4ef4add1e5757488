import type { Rules } from '../../../trade/measuring/rules.ts'
import type { SentenceKey } from '../../frame/say.ts'

/** The rules a figure can be judged by: what each is called, what it means and what it costs. */
export const RULE_CHOICES: { code: Rules['rule']; name: SentenceKey; means: SentenceKey; price: SentenceKey }[] = [
  { code: 'guarded', name: 'rules.guarded', means: 'rules.guarded_means', price: 'rules.guarded_price' },
  { code: 'guarded_95', name: 'rules.guarded_95', means: 'rules.guarded_95_means', price: 'rules.guarded_95_price' },
  { code: 'simple', name: 'rules.simple', means: 'rules.simple_means', price: 'rules.simple_price' },
]

/** What is worked out, and the kind of unit it can be shown in. */
export const SHOWN_UNITS: { field: keyof Rules; label: SentenceKey; kind: string }[] = [
  { field: 'shown_length', label: 'rules.lengths', kind: 'length' },
  { field: 'shown_pressure', label: 'rules.pressures', kind: 'pressure' },
  { field: 'shown_volume', label: 'rules.volumes', kind: 'volume' },
  { field: 'shown_torque', label: 'rules.torques', kind: 'torque' },
  { field: 'shown_temperature', label: 'rules.temperatures', kind: 'temperature' },
]
