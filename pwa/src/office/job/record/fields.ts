// What corrections made of a record, and what it says today.

import { fieldWords, isShown } from '../../../trade/record/fields.ts'
import type { Item } from '../../frame/shapes.ts'
import { say } from '../../frame/say.ts'

export interface Change {
  field: string
  from: string
  to: string
}

/**
 * What each correction of a record struck out and put in place, oldest first. A value corrected twice is struck out twice.
 * `placeName` says a place's code in full.
 */
export function changesOf(item: Item, placeName: (code: string) => string): Change[][] {
  const stands: Record<string, unknown> = { ...item.body, location: { place: item.place ?? '', point: item.point } }
  return item.corrected_by.map((correction) => {
    const changes = Object.entries(correction.changes).map(([field, to]) => {
      const from = stands[field]
      stands[field] = to
      const inWords = (value: unknown) => (field === 'location' ? locationWords(value, placeName) : fieldWords(item.kind, field, value))
      return { field, from: inWords(from), to: inWords(to) }
    })
    // A code that changed along with words says nothing more to a reader.
    const worded = changes.filter(({ field }) => field === 'location' || isShown(item.kind, field, correction.changes[field]))
    return worded.length ? worded : changes
  })
}

function locationWords(value: unknown, placeName: (code: string) => string): string {
  const { place = '', point = '' } = (value ?? {}) as { place?: string; point?: string }
  return place ? [placeName(place), point].filter(Boolean).join(', ') : say('record.no_place')
}

/** The body as it stands today, after all corrections. */
export function standing(item: Item): { body: Record<string, unknown>; place: string; point: string } {
  const body = { ...item.body }
  let { place, point } = { place: item.place ?? '', point: item.point }
  for (const { changes } of item.corrected_by) {
    for (const [field, value] of Object.entries(changes)) {
      if (field === 'location') ({ place, point } = value as { place: string; point: string })
      else body[field] = value
    }
  }
  return { body, place, point }
}
