// The workshop's gauges: what is written down of one, whether it was overdue, and what it can read. The twin of
// trade/gauges.py, which says what the fields mean.

import table from '../../../../server/witnessmark/trade/data/gauge_sorts.json'
import { compare, minus, NOTHING } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import type { Fault } from '../ground/errors.ts'
import * as shapes from '../ground/shapes.ts'
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

export const SORTS: Record<string, GaugeSort> = Object.fromEntries(table.sorts.map((one) => [one.code, one]))

const FIELDS: described.Field[] = [
  ['id', 'The identifier', shapes.uuid],
  ['name', 'The name', shapes.text(80, 1)],
  ['sort', 'The sort', described.oneOf(Object.keys(SORTS), 'is no sort of gauge that is known here')],
  ['serial', 'The serial number', shapes.text(60)],
  ['unit', 'The unit', described.unit],
  ['low', 'The lower end of the range', described.numberOrNothing],
  ['high', 'The upper end of the range', described.numberOrNothing],
  ['resolution', 'The resolution', described.number],
  ['mpe', 'The permissible error', described.number],
  ['repeatability', 'The repeatability', described.numberOrNothing],
  ['certificate', 'The certificate', shapes.text(120)],
  ['calibrated', 'The day of calibration', described.dayOrNothing],
  ['due', 'The day when calibration is due', described.dayOrNothing],
  ['retired', 'Retired', shapes.yesNo],
  ['notes', 'The notes', shapes.text(1000)],
]

/** All faults of a gauge, none when it can be used. Never throws, whatever it is given. */
export function check(gauge: unknown): Fault[] {
  const faults = described.faultsOf(gauge, FIELDS, 'gauge', 'A gauge')
  if (faults.length) return faults
  const given = gauge as Gauge
  const add = (where: string, message: string) => faults.push({ where, message })
  const sort = SORTS[given.sort]!
  if (!sort.kinds.includes(UNITS[given.unit]!.kind)) {
    const [kinds, unit] = [sort.kinds.join(' or '), given.unit || 'A plain number']
    add('unit', `${unit} does not fit a gauge of the sort ${sort.words}, which reads ${kinds}.`)
  }
  if (described.upsideDown(given.low, given.high)) {
    add('high', `The range ends at ${given.high}, below where it begins, ${given.low}.`)
  }
  if (described.exact(given.resolution).over <= 0n) {
    add('resolution', 'The resolution must be above zero: the smallest step that can be read.')
  }
  if (described.exact(given.mpe).over < 0n) {
    add('mpe', 'The permissible error is given without a sign; it counts plus and minus.')
  }
  if (given.repeatability && described.exact(given.repeatability).over <= 0n) {
    add('repeatability', 'The repeatability must be above zero; leave it empty if not studied.')
  }
  if (given.calibrated && given.due && given.due < given.calibrated) {
    add('due', `Due on ${given.due} lies before the calibration on ${given.calibrated}.`)
  }
  return faults
}

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
  return SORTS[gauge.sort]!.takes.some((one) => SORTS[other.sort]!.takes.includes(one))
}
