// Limits and sizes of an engine type as the workshop typed them, and where and when they count. The twin of
// trade/limits.py, which says what the fields mean.

import table from '../../../../server/witnessmark/trade/data/materials.json'
import * as described from '../ground/described.ts'
import type { Fault } from '../ground/errors.ts'
import * as shapes from '../ground/shapes.ts'
import type { Check } from '../ground/shapes.ts'

/** Numbers are decimal text in `unit`, "" for an open end. */
export interface Limit {
  id: string
  engine_type: string
  procedure: string
  figure: string
  sort: 'new' | 'service' | 'machining'
  low: string
  high: string
  unit: string
  /** Place codes with * for a whole segment; none: everywhere. */
  where: string[]
  source: string
  valid_from: string
  valid_until: string
  withdrawn: boolean
  note: string
}

export interface Size {
  id: string
  engine_type: string
  procedure: string
  code: string
  values: string[]
  unit: string
  where: string[]
  source: string
  withdrawn: boolean
  note: string
}

export interface Material {
  code: string
  words: string
  /** Millionths per kelvin. */
  alpha: string
}

export const SORTS = { new: 'new part', service: 'service limit', machining: 'machining' }
export const MATERIALS: Record<string, Material> = Object.fromEntries(table.materials.map((one) => [one.code, one]))

const CODE = /^[a-z][a-z0-9_]{0,39}$/
const PATTERN = /^[a-z][a-z0-9_]{0,39}(?:\/(?:[A-Za-z0-9_]{1,20}|\*)){0,5}$/
const somePatterns = shapes.texts(100, 80)

const code: Check = (value) =>
  typeof value === 'string' && CODE.test(value) ? null : 'is no code of small letters, digits and _'

const where: Check = (value) => {
  const reason = somePatterns(value)
  if (reason) return reason
  const bad = (value as string[]).find((one) => !PATTERN.test(one))
  return bad === undefined ? null : `names ${bad}, which is no place such as bore/3 or valve/*/inlet`
}

const LIMIT: described.Field[] = [
  ['id', 'The identifier', shapes.uuid],
  ['engine_type', 'The engine type', shapes.uuid],
  ['procedure', 'The procedure', code],
  ['figure', 'The figure', code],
  ['sort', 'The sort of limit', described.oneOf(Object.keys(SORTS), 'is none of new, service and machining')],
  ['low', 'The lower limit', described.numberOrNothing],
  ['high', 'The upper limit', described.numberOrNothing],
  ['unit', 'The unit', described.unit],
  ['where', 'Where', where],
  ['source', 'The source', shapes.text(300, 1)],
  ['valid_from', 'The first day', described.dayOrNothing],
  ['valid_until', 'The last day', described.dayOrNothing],
  ['withdrawn', 'Withdrawn', shapes.yesNo],
  ['note', 'The note', shapes.text(1000)],
]
const SIZE: described.Field[] = [
  ['id', 'The identifier', shapes.uuid],
  ['engine_type', 'The engine type', shapes.uuid],
  ['procedure', 'The procedure', code],
  ['code', 'The size', code],
  ['values', 'The list of values', shapes.texts(60, 40)],
  ['unit', 'The unit', described.unit],
  ['where', 'Where', where],
  ['source', 'The source', shapes.text(300, 1)],
  ['withdrawn', 'Withdrawn', shapes.yesNo],
  ['note', 'The note', shapes.text(1000)],
]

/** All faults of a limit, none when it can be used. Never throws, whatever it is given. */
export function check(limit: unknown): Fault[] {
  const faults = described.faultsOf(limit, LIMIT, 'limit', 'A limit')
  if (faults.length) return faults
  const given = limit as Limit
  const add = (at: string, message: string) => faults.push({ where: at, message })
  if (given.low === '' && given.high === '') {
    add('high', 'A limit has a lower end, an upper end or both; this one has neither.')
  }
  if (described.upsideDown(given.low, given.high)) {
    add('high', `The upper limit ${given.high} lies below the lower one, ${given.low}.`)
  }
  if (given.valid_from && given.valid_until && given.valid_until < given.valid_from) {
    add('valid_until', `The last day ${given.valid_until} lies before the first, ${given.valid_from}.`)
  }
  return faults
}

/** All faults of a size, none when it can be used. Never throws, whatever it is given. */
export function checkSize(size: unknown): Fault[] {
  const faults = described.faultsOf(size, SIZE, 'size', 'A size')
  if (faults.length) return faults
  const { values, unit, code: called } = size as Size
  if (!values.length) return [{ where: 'values', message: 'A size has at least one value.' }]
  if (called === 'material') {
    if (values.length !== 1 || !Object.hasOwn(MATERIALS, values[0]!)) {
      faults.push({ where: 'values', message: `A material is one of ${Object.keys(MATERIALS).join(', ')}.` })
    }
    if (unit) faults.push({ where: 'unit', message: 'A material has no unit.' })
    return faults
  }
  const bad = values.find((one) => described.number(one))
  if (bad !== undefined) return [{ where: 'values', message: `${bad} is not a number such as 86.000.` }]
  const seen = new Map<string, string>()
  for (const one of values) {
    const { over, under } = described.exact(one)
    const size = `${over}/${under}`
    if (seen.has(size)) return [{ where: 'values', message: `${seen.get(size)} and ${one} are the same size.` }]
    seen.set(size, one)
  }
  return faults
}

/** True when one of the patterns takes in the place; no pattern at all means everywhere. */
export function covers(patterns: string[], place: string): boolean {
  const there = place.split('/')
  return (
    !patterns.length ||
    patterns.some((pattern) => {
      const wanted = pattern.split('/')
      return wanted.length <= there.length && wanted.every((one, i) => one === '*' || one === there[i])
    })
  )
}

/** True when a limit or size counts for a procedure at a place of an engine type on a day ("" for any day). */
export function countsFor(one: Limit | Size, engineType: string, procedure: string, place: string, day = ''): boolean {
  const [from, until] = 'valid_from' in one ? [one.valid_from, one.valid_until] : ['', '']
  return (
    !one.withdrawn &&
    one.engine_type === engineType &&
    one.procedure === procedure &&
    covers(one.where, place) &&
    (day === '' || (from <= day && day <= (until || '9999-12-31')))
  )
}
