// Limits and sizes of an engine type as the workshop typed them, and where and when they count. The twin of
// trade/measuring/limits.py, which says what the fields mean.

import table from '../../../../server/witnessmark/trade/data/materials.json'
import { say } from '../ground/say.ts'

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

export const SORTS = {
  new: say('measuring.sort_new'),
  service: say('measuring.sort_service'),
  machining: say('measuring.sort_machining'),
}
export const MATERIALS: Record<string, Material> = Object.fromEntries(table.materials.map((material) => [material.code, material]))

/** True when one of the patterns takes in the place; no pattern at all means everywhere. */
export function covers(patterns: string[], place: string): boolean {
  const there = place.split('/')
  return (
    !patterns.length ||
    patterns.some((pattern) => {
      const wanted = pattern.split('/')
      return wanted.length <= there.length && wanted.every((index, i) => index === '*' || index === there[i])
    })
  )
}

/** True when a limit or size counts for a procedure at a place of an engine type on a day ("" for any day). */
export function countsFor(limit: Limit | Size, engineType: string, procedure: string, place: string, day = ''): boolean {
  const [from, until] = 'valid_from' in limit ? [limit.valid_from, limit.valid_until] : ['', '']
  return (
    !limit.withdrawn &&
    limit.engine_type === engineType &&
    limit.procedure === procedure &&
    covers(limit.where, place) &&
    (day === '' || (from <= day && day <= (until || '9999-12-31')))
  )
}
