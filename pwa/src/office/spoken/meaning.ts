// Whether two ways of saying it come to the same: "eighty eight point nine four" and "88.94". Pure.

import { read } from '../../trade/spoken/parse.ts'
import { screenOf } from '../../trade/spoken/notes.ts'
import type { SpokenItem } from './shapes.ts'

/** True when both texts propose the very same record; talk proposes none, so it is never the same. */
export function sameMeaning(one: string, other: string, sound: Pick<SpokenItem, 'body' | 'place' | 'point'>): boolean {
  const location = sound.place ? { place: sound.place, point: sound.point } : null
  const screen = screenOf({ body: sound.body, location })
  const [first, second] = [one, other].map((text) => {
    const { place, point, quantity, value, value_to, unit, conditions, disposition } = read(text, screen, null)
    const says = value || conditions.length || disposition
    return says ? JSON.stringify([place, point, quantity, value, value_to, unit, [...conditions].sort(), disposition]) : ''
  })
  return Boolean(first) && first === second
}
