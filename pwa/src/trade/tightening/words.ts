// What the entries of a tightening are about, in words: the joint, the bolts, the departure that was answered. The twin of
// trade/tightening/words.py.

import { placeName } from '../engine/locations.ts'
import type { EngineType } from '../engine/parts.ts'
import { SORTS, times } from './departures.ts'

/** The joint as its engine type calls it ("Cylinder head, bank A"), else after its fasteners ("head bolt A"). */
export function jointName(engine: EngineType | null, joint: string): string {
  return engine?.joints.find((one) => one.code === joint)?.name || placeName(null, joint)
}

/** What was said of the bolts when a run began. */
export function boltsWords(bolts: string, use: number): string {
  if (bolts === 'new') return 'Bolts new'
  if (bolts === 'unknown') return 'Nobody knows how often the bolts were tightened before'
  return use ? `Bolts tightened ${times(use)} before` : 'Bolts used before'
}

/** "stage snug, fastener 3, out of order": what a key of tightening_departures.ts names. */
export function departureWords(key: string): string {
  const parts = key.split('/')
  const sort = parts.at(-2) ?? ''
  if (parts.length < 4 || !Object.hasOwn(SORTS, sort)) return key
  const [stage, label] = [parts[0], parts.slice(1, -2).join('/')]
  return [stage && `stage ${stage}`, label && `fastener ${label}`, SORTS[sort as keyof typeof SORTS]].filter(Boolean).join(', ')
}
