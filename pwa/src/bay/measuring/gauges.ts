// The register as it is offered in the bay: what can read the quantity first, what is overdue said plainly.
import { type Gauge, inRange, overdue, SORTS } from '../../trade/measuring/gauges.ts'
import type { Known } from '../../trade/measuring/known.ts'
import { read, toSi, UNITS } from '../../trade/ground/units.ts'
import { kindOf } from './grid.ts'
import { shortDay } from '../frame/words.ts'

export interface Kept {
  id: string
  name: string
  /** 'bore gauge, 50 to 160 mm, reads 0.001, ±0.003' */
  facts: string
  /** 'calibration was due 2 Sep', '' when it is not. */
  overdue: string
  /** Why it is not offered first; '' when it can be used. */
  not: string
}

const isoToday = (now: Date) => `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`

const late = (gauge: Gauge, now: Date) => (overdue(gauge, isoToday(now)) ? `calibration was due ${shortDay(gauge.due, now)}` : '')

/** Gauges that are in use, those first that read this quantity and reach the size in hand ('' while there is none). */
export function gaugesFor(known: Known, quantity: string, size: string, unit: string, now = new Date()): Kept[] {
  const kept = Object.values(known.gauges)
    .map(({ what }) => what)
    .filter((gauge) => !gauge.retired)
    .map((gauge) => ({ id: gauge.id, name: gauge.name, facts: facts(gauge), overdue: late(gauge, now), not: whyNot(gauge, quantity, size, unit) }))
  const weight = (one: Kept) => (one.not ? 2 : 0) + (one.overdue ? 1 : 0)
  return kept.sort((a, b) => weight(a) - weight(b) || (a.name < b.name ? -1 : 1))
}

export function overdueWords(known: Known, id: string, now = new Date()): string {
  const gauge = known.gauges[id]?.what
  return gauge ? late(gauge, now) : ''
}

function facts(gauge: Gauge): string {
  const range = gauge.low && gauge.high ? `${gauge.low} to ${gauge.high} ${gauge.unit}` : gauge.high ? `up to ${gauge.high} ${gauge.unit}` : gauge.unit
  return `${SORTS[gauge.sort]?.words ?? gauge.sort}, ${range}, reads ${gauge.resolution}, ±${gauge.mpe}`
}

function whyNot(gauge: Gauge, quantity: string, size: string, unit: string): string {
  const kind = kindOf(quantity)
  if (kind && UNITS[gauge.unit]?.kind !== kind) return 'reads something else'
  if (!size) return ''
  try {
    const { amount, unit: said } = read(size, unit)
    return inRange(gauge, toSi(amount, said)) ? '' : `does not reach ${size} ${said}`
  } catch {
    return '' // A size nobody can read says nothing against a gauge.
  }
}
