// How many readings would settle a figure. The twin of trade/measuring/more_readings.py.

import { by, compare, negative, NOTHING, square, times, whole } from '../ground/amounts.ts'
import { say } from '../ground/say.ts'
import { listed } from '../ground/sentences.ts'
import * as uncertainty from './uncertainty.ts'
import { gaugeOf, type Made, type Share, widthText } from './uncertainty.ts'
import type { Fraction } from '../ground/units.ts'
import { counted, ERROR, goal, leaves, room, settled, short, type Unproven } from './unproven.ts'

const MOST_READINGS = 100
const MOST_NAMED = 3

/** The repeats of one reading: what one taking scatters and what the resolution leaves, as variances in the figure. */
export interface Repeats {
  made: Made
  scatter: Fraction
  floor: Fraction
}

export function repeats(unproven: Unproven): Repeats[] {
  return counted(unproven).map(([weight, , made]) => {
    const gauge = gaugeOf(made)
    const s2 = made.amounts.length > 1 ? uncertainty.scatter(made) : square(gauge.repeatability ?? NOTHING)
    const floor = by(times(square(weight), square(gauge.resolution)), whole(12))
    return { made, scatter: short(times(square(weight), s2)), floor: short(floor) }
  })
}

/** The least number of readings that would do, "" when no number up to the most does. */
export function readings(unproven: Unproven, budget: Share[], taken: Repeats[]): string {
  const some = scattering(taken)
  if (!some.length || !settled(unproven, withReadings(budget, taken, null))) return ''
  const now = Math.min(...some.map((each) => each.made.amounts.length))
  for (let n = now + 1; n <= MOST_READINGS; n += 1) {
    if (settled(unproven, withReadings(budget, taken, n))) {
      const words = pointsOf(some)
      if (words.length === 1) return say('measuring.readings_at', { readings: n, point: words[0]!, goal: goal(unproven) })
      if (words.length > MOST_NAMED) return say('measuring.readings_at_points', { readings: n, points: words.length, goal: goal(unproven) })
      return say('measuring.readings_at_each', { readings: n, points: words.join('; '), goal: goal(unproven) })
    }
  }
  return ''
}

export function noReadings(unproven: Unproven, budget: Share[], taken: Repeats[]): string {
  const ideal = withReadings(budget, taken, null)
  if (settled(unproven, ideal)) {
    const words = pointsOf(scattering(taken))
    if (words.length === 1) return say('measuring.too_many_at', { most: MOST_READINGS, point: words[0]! })
    if (words.length > MOST_NAMED) return say('measuring.too_many_at_points', { most: MOST_READINGS, points: words.length })
    return say('measuring.too_many_at_each', { most: MOST_READINGS, points: words.join('; ') })
  }
  const names = [...new Set(taken.map((each) => gaugeOf(each.made).name))]
  if (budget.some((share) => share.source === 'temperature' && share.variance.over)) names.push(say('measuring.temperature'))
  const away = room(unproven).over < 0n ? negative(room(unproven)) : room(unproven)
  return say('measuring.no_readings', {
    count: names.length,
    names: listed(names),
    leaves: leaves(unproven, ideal),
    away: widthText(away, unproven.unit),
  })
}

/** The shares with at least n readings of everything, null for as many as you like. */
export function withReadings(budget: Share[], taken: Repeats[], n: number | null): Share[] {
  const shares = budget.filter((share) => share.source === ERROR || share.source === 'temperature')
  for (const each of taken) {
    const count = n === null ? null : Math.max(n, each.made.amounts.length)
    const some = count && by(each.scatter, whole(count))
    if (some && compare(some, each.floor) > 0) {
      const freedom = count > 1 ? count - 1 : null
      shares.push({ source: 'scatter', words: '', variance: some, freedom, gauge: '' })
    } else {
      shares.push({ source: 'resolution', words: '', variance: each.floor, freedom: null, gauge: '' })
    }
  }
  return shares
}

const scattering = (taken: Repeats[]): Repeats[] =>
  taken.filter((each) => compare(by(each.scatter, whole(each.made.amounts.length)), each.floor) > 0)

const pointsOf = (some: Repeats[]): string[] => some.map((each) => uncertainty.readingWords(each.made))
