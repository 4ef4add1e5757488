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
export function settle(one: Unproven, register: Gauge[], day: string): string[] {
  if (one.rules.rule === 'simple' || (!one.low && !one.high)) return []
  if (unknowns(one.weights, one.made).length) return nameTheGauge(one)
  const found = shares(one)
  if (settled(one, found)) return []
  if (!room(one).over) return [say('measuring.on_the_limit')]
  const taken = repeats(one)
  const [byGauge, byReadings] = [finer(one, found), readings(one, found, taken)]
  const sentences = [byGauge || noFiner(one, found), ...registered(one, register, day)]
  sentences.push(byReadings || noReadings(one, found, taken))
  if (!byGauge && !byReadings) sentences.push(both(one, found, taken))
  return sentences.filter(Boolean)
}

function nameTheGauge(one: Unproven): string[] {
  const unknown = counted(one).flatMap(([, , made]) => (!made.gauge && made.gaugeName ? [made.gaugeName] : []))
  const found = [...new Set(unknown)].map((gauge) => say('measuring.describe_gauge', { gauge }))
  return found.length ? found : [say('measuring.name_a_gauge')]
}

function both(one: Unproven, found: Share[], taken: Repeats[]): string {
  for (const n of TOGETHER) {
    const more = finer(one, withReadings(found, taken, n), n)
    if (more) return more
  }
  return ''
}
