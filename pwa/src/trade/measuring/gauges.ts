// The workshop's gauges: what is written down of one, whether it was overdue, and what it can read. The twin of
// trade/measuring/gauges.py, which says what the fields mean.

import table from '../../../../server/witnessmark/trade/data/gauge_sorts.json'
import { compare, minus, NOTHING } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import { type Fraction, toSi, UNITS } from '../ground/units.ts'

export interface GaugeSort {
  code: string
  words: string
  kinds: string[]
  /** What it can be put to: "inside", "gap", … */
  takes: string[]
}

/** Numbers are decimal text in `unit`; days are 2026-05-14, or "" when nobody said. */
export interface Gauge {
  id: string
  name: string
  sort: string
  serial: string
  unit: string
  low: string
  high: string
  resolution: string
  /** Maximum permissible error, plus or minus. */
  mpe: string
  /** Standard deviation of single readings, where somebody has studied it. */
  repeatability: string
  certificate: string
  calibrated: string
  due: string
  retired: boolean
  notes: string
}

/** A gauge's numbers, exact, in the SI unit of its kind. */
export interface GaugeInSi {
  id: string
  name: string
  sort: string
  unit: string
  kind: string
  low: Fraction | null
  high: Fraction | null
  resolution: Fraction
  mpe: Fraction
  repeatability: Fraction | null
}

export const SORTS: Record<string, GaugeSort> = Object.fromEntries(table.sorts.map((sort) => [sort.code, sort]))

/** The numbers of a sound gauge in SI. Widths (resolution, errors) have no offset: 2 °F is 10/9 K. */
export function inSi(gauge: Gauge): GaugeInSi {
  const nothing = toSi(NOTHING, gauge.unit)
  const size = (text: string) => (text ? toSi(described.exact(text), gauge.unit) : null)
  const width = (text: string) => minus(toSi(described.exact(text), gauge.unit), nothing)
  return {
    id: gauge.id,
    name: gauge.name,
    sort: gauge.sort,
    unit: gauge.unit,
    kind: UNITS[gauge.unit]!.kind,
    low: size(gauge.low),
    high: size(gauge.high),
    resolution: width(gauge.resolution),
    mpe: width(gauge.mpe),
    repeatability: gauge.repeatability ? width(gauge.repeatability) : null,
  }
}

/**
 * True when the gauge was past its date at a time or day as claimed (the local day is what counts). On the day itself
 * it is still good; a gauge without a date is never overdue.
 */
export function overdue(gauge: Gauge, claimed: string): boolean {
  return gauge.due !== '' && claimed.slice(0, 10) > gauge.due
}

/** True when the gauge reaches an amount in SI; the ends of its range belong to it. */
export function inRange(gauge: Gauge, amount: Fraction): boolean {
  const { low, high } = inSi(gauge)
  return (!low || compare(low, amount) <= 0) && (!high || compare(amount, high) <= 0)
}

/** True when a gauge can be put to what another is put to, its range left aside. */
export function standsIn(gauge: GaugeInSi, other: GaugeInSi): boolean {
  if (gauge.kind !== other.kind) return false
  if (gauge.sort === other.sort && other.sort !== 'other') return true
  return SORTS[gauge.sort]!.takes.some((take) => SORTS[other.sort]!.takes.includes(take))
}
