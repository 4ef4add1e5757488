// Tightening sheets as the server has checked them. What the fields mean is said in its tightening/sheets.py.

import type { Joint, EngineType } from '../engine/parts.ts'
import type { TighteningStage } from './stages.ts'

export type Hold =
  | { sort: 'measured'; procedure: string; figure: string; where: string[] }
  | { sort: 'ticked'; stage: string; item: string }

export interface TighteningSheet {
  id: string
  engine_type: string
  /** A joint, or a pattern with * for a whole segment. */
  joint: string
  name: string
  thread: { size: string; pitch: string; class: string }
  /** A code of fastener_tightened, "" when not said. */
  state: string
  bolt: 'reusable' | 'stretch'
  /** How often such bolts may be tightened in all; 0: as long as their length allows. */
  uses_most: number
  /** Millimetres, "" for none. */
  length_most: string
  stages: TighteningStage[]
  friction: { k: string; thread: string; head: string }
  two_people: boolean
  holds: Hold[]
  source: string
  withdrawn: boolean
  note: string
}

export const STATES = ['', 'dry', 'oiled', 'sealant', 'locking', 'new', 'used']

/** The joints of an engine type that a sheet's joint names: `head_bolt/*` names head_bolt/A and head_bolt/B. */
export function jointsOf(pattern: string, engineType: EngineType): Joint[] {
  const wanted = pattern.split('/')
  return engineType.joints.filter((joint) => {
    const parts = joint.code.split('/')
    return parts.length === wanted.length && wanted.every((want, place) => want === '*' || want === parts[place])
  })
}
