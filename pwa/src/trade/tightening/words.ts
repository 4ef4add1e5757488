// What the entries of a tightening are about, in words: the joint, the bolts, the departure that was answered. The twin of
// trade/tightening/words.py.

import { placeName } from '../engine/locations.ts'
import type { EngineType } from '../engine/parts.ts'
import { say } from '../ground/say.ts'
import { SORTS, times } from './departures.ts'

/** The joint as its engine type calls it ("Cylinder head, bank A"), else after its fasteners ("head bolt A"). */
export function jointName(engine: EngineType | null, joint: string): string {
  return engine?.joints.find((candidate) => candidate.code === joint)?.name || placeName(null, joint)
}

/** What was said of the bolts when a run began. */
export function boltsWords(bolts: string, use: number): string {
  if (bolts === 'new') return say('tightening.bolts_new')
  if (bolts === 'unknown') return say('tightening.bolts_unknown')
  return use ? say('tightening.bolts_times', { times: times(use) }) : say('tightening.bolts_used')
}

/** "stage snug, fastener 3, out of order": what a key of tightening_departures.ts names. */
export function departureWords(key: string): string {
  const parts = key.split('/')
  const sort = parts.at(-2) ?? ''
  if (parts.length < 4 || !Object.hasOwn(SORTS, sort)) return key
  const [stage, fastener] = [parts[0]!, parts.slice(1, -2).join('/')]
  const words = SORTS[sort as keyof typeof SORTS]
  if (stage && fastener) return say('tightening.departure.fastener_of_stage', { stage, fastener, sort: words })
  if (stage) return say('tightening.departure.stage', { stage, sort: words })
  return fastener ? say('tightening.departure.fastener', { fastener, sort: words }) : words
}
