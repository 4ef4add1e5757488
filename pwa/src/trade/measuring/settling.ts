// What would settle a figure that is not proven: a finer gauge, one of the register, more readings, or nothing.
// The twin of trade/measuring/settling.py.

import { say } from '../ground/say.ts'
import { finer, noFiner, registered } from './finer_gauge.ts'
import type { Gauge } from './gauges.ts'
import { noReadings, readings, repeats, type Repeats, withReadings } from './more_readings.ts'
import { type Share, unknowns } from './uncertainty.ts'
import { counted, room, settled, shares, type Unproven } from './unproven.ts'

const TOGETHER = [5, 10, 20, 50] // numbers of readings tried together with a finer gauge

/**
 * Sentences, the most useful first; none when the figure is settled, or when simple acceptance leaves nothing open.
 * `register` are the gauges as described now, `day` the day on which they must be in date.
 */
export function settle(unproven: Unproven, register: Gauge[], day: string): string[] {
  if (unproven.rules.rule === 'simple' || (!unproven.low && !unproven.high)) return []
  if (unknowns(unproven.weights, unproven.made).length) return nameTheGauge(unproven)
  const budget = shares(unproven)
  if (settled(unproven, budget)) return []
  if (!room(unproven).over) return [say('measuring.on_the_limit')]
  const taken = repeats(unproven)
  const [byGauge, byReadings] = [finer(unproven, budget), readings(unproven, budget, taken)]
  const sentences = [byGauge || noFiner(unproven, budget), ...registered(unproven, register, day)]
  sentences.push(byReadings || noReadings(unproven, budget, taken))
  if (!byGauge && !byReadings) sentences.push(both(unproven, budget, taken))
  return sentences.filter(Boolean)
}

function nameTheGauge(unproven: Unproven): string[] {
  const unknown = counted(unproven).flatMap(([, , made]) => (!made.gauge && made.gaugeName ? [made.gaugeName] : []))
  const sentences = [...new Set(unknown)].map((gauge) => say('measuring.describe_gauge', { gauge }))
  return sentences.length ? sentences : [say('measuring.name_a_gauge')]
}

function both(unproven: Unproven, budget: Share[], taken: Repeats[]): string {
  for (const n of TOGETHER) {
    const more = finer(unproven, withReadings(budget, taken, n), n)
    if (more) return more
  }
  return ''
}
