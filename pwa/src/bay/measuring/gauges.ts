// The register as it is offered in the bay: what can read the quantity first, what is overdue plainly marked.
import { type Gauge, inRange, overdue, SORTS } from '../../trade/measuring/gauges.ts'
import type { Known } from '../../trade/measuring/known.ts'
import { read, toSi, UNITS } from '../../trade/ground/units.ts'
import { kindOf } from './grid.ts'
import { shortDay } from '../frame/words.ts'
import { say } from '../frame/say.ts'

export interface GaugeRow {
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

const late = (gauge: Gauge, now: Date) => (overdue(gauge, isoToday(now)) ? say('gauge.due', { day: shortDay(gauge.due, now) }) : '')

/** Gauges that are in use, those first that read this quantity and reach the size in hand ('' while there is none). */
export function gaugesFor(known: Known, quantity: string, size: string, unit: string, now = new Date()): GaugeRow[] {
  const rows = Object.values(known.gauges)
    .map(({ data }) => data)
    .filter((gauge) => !gauge.retired)
    .map((gauge) => ({ id: gauge.id, name: gauge.name, facts: facts(gauge), overdue: late(gauge, now), not: whyNot(gauge, quantity, size, unit) }))
  const weight = (row: GaugeRow) => (row.not ? 2 : 0) + (row.overdue ? 1 : 0)
  return rows.sort((a, b) => weight(a) - weight(b) || (a.name < b.name ? -1 : 1))
}

export function overdueWords(known: Known, id: string, now = new Date()): string {
  const gauge = known.gauges[id]?.data
  return gauge ? late(gauge, now) : ''
}

function facts(gauge: Gauge): string {
  const high = `${gauge.high} ${gauge.unit}`
  const range = gauge.low && gauge.high ? say('common.range', { low: gauge.low, high }) : gauge.high ? say('common.up_to', { high }) : gauge.unit
  return say('gauge.facts', { sort: SORTS[gauge.sort]?.words ?? gauge.sort, range, resolution: gauge.resolution, error: gauge.mpe })
}

function whyNot(gauge: Gauge, quantity: string, size: string, unit: string): string {
  const kind = kindOf(quantity)
  if (kind && UNITS[gauge.unit]?.kind !== kind) return say('gauge.other_quantity')
  if (!size) return ''
  try {
    const { amount, unit: inUnit } = read(size, unit)
    return inRange(gauge, toSi(amount, inUnit)) ? '' : say('gauge.no_reach', { size: `${size} ${inUnit}` })
  } catch {
    return '' // A size that cannot be read rules out no gauge.
  }
}
