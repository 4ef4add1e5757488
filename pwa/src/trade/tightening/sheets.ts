// Tightening sheets: the check that gathers all their faults, and the file one travels in. The twin of
// trade/tightening_sheets.py, which says what the fields mean.

import * as described from '../ground/described.ts'
import { FASTENER_PARTS, type EngineType } from '../engine/types.ts'
import type { Fault } from '../ground/errors.ts'
import { Exchange } from '../ground/exchange.ts'
import type { Joint } from '../engine/parts.ts'
import { beyondThread } from './preload_estimate.ts'
import * as shapes from '../ground/shapes.ts'
import type { Check } from '../ground/shapes.ts'
import { CODES, STAGES } from '../engine/stages.ts'
import { checkStages, type JointLabels, type TighteningStage } from './stages.ts'

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
export const MOST_HOLDS = 40

const PATTERN = /^[a-z][a-z0-9_]{0,39}(?:\/(?:[A-Za-z0-9_]{1,20}|\*)){0,5}$/
const CODE = /^[a-z][a-z0-9_]{0,39}$/
const somePatterns = shapes.texts(100, 80)

const joint: Check = (value) => {
  if (typeof value !== 'string' || !PATTERN.test(value)) return 'is no joint such as head_bolt/A or head_bolt/*'
  if (FASTENER_PARTS.includes(value.split('/')[0]!)) return null
  return `does not start with one of ${FASTENER_PARTS.join(', ')}`
}
const isList: Check = (value) => (Array.isArray(value) ? null : 'is not a list')
const isObject: Check = (value) => (shapes.isObject(value) ? null : 'is not an object with fields')

const FIELDS: described.Field[] = [
  ['id', 'The identifier', shapes.uuid],
  ['engine_type', 'The engine type', shapes.uuid],
  ['joint', 'The joint', joint],
  ['name', 'The name', shapes.text(80, 1)],
  ['thread', 'The thread', isObject],
  ['state', 'The state of the thread', described.oneOf(STATES, 'is no state of a thread that is known here')],
  ['bolt', 'The sort of bolt', described.oneOf(['reusable', 'stretch'], 'is neither reusable nor stretch')],
  ['uses_most', 'How often the bolts may be tightened', shapes.whole(0, 20)],
  ['length_most', 'The greatest length', described.numberOrNothing],
  ['stages', 'The list of stages', isList],
  ['friction', 'The friction', isObject],
  ['two_people', 'Whether a second person witnesses', shapes.yesNo],
  ['holds', 'The list of conditions', isList],
  ['source', 'The source', shapes.text(300, 1)],
  ['withdrawn', 'Withdrawn', shapes.yesNo],
  ['note', 'The note', shapes.text(1000)],
]

/**
 * All faults of a sheet, none when it can be used. Never throws, whatever the sheet is. With a sound engine type the
 * joint must be there, and each order must name each of its fasteners once.
 */
export function check(given: unknown, engineType?: EngineType): Fault[] {
  const faults = described.faultsOf(given, FIELDS, 'sheet', 'A tightening sheet')
  if (faults.length) return faults
  const sheet = given as TighteningSheet
  const add = (where: string, message: string) => faults.push({ where, message })
  const joints = engineType ? jointsOf(sheet.joint, engineType) : []
  if (engineType && sheet.engine_type !== engineType.id) {
    add('engine_type', `The sheet belongs to another engine type than ${engineType.name}.`)
  } else if (engineType && !joints.length) {
    const known = engineType.joints.map((one) => one.code).join(', ') || 'no joint at all'
    add('joint', `${sheet.joint} names no joint of ${engineType.name}, which has ${known}.`)
  }
  faults.push(...inside(sheet.thread, THREAD, 'thread', 'A thread'))
  bolt(sheet, add)
  const friction = inside(sheet.friction, FRICTION, 'friction', 'The friction')
  faults.push(...friction)
  if (!friction.length && (sheet.friction.thread === '') !== (sheet.friction.head === '')) {
    const side = sheet.friction.head === '' ? 'head' : 'thread'
    add(`friction.${side}`, 'Friction is given for thread and head together; one of them is missing.')
  }
  const labels = joints.map((one): JointLabels => [one.code, one.fasteners.map((fastener) => fastener.label)])
  faults.push(...checkStages(sheet.stages, labels))
  holds(sheet.holds, add)
  // What a torque makes of the thread can be worked out only when everything else holds together.
  return faults.length ? faults : beyondThread(sheet)
}

/** The joints of an engine type that a sheet's joint names: `head_bolt/*` names head_bolt/A and head_bolt/B. */
export function jointsOf(pattern: string, engineType: EngineType): Joint[] {
  const wanted = pattern.split('/')
  return engineType.joints.filter((one) => {
    const parts = one.code.split('/')
    return parts.length === wanted.length && wanted.every((want, place) => want === '*' || want === parts[place])
  })
}

const aboveNothing: Check = (value) => {
  const reason = described.numberOrNothing(value)
  if (reason) return reason
  return value === '' || described.exact(value as string).over > 0n ? null : 'is not above zero'
}

const THREAD: described.Field[] = [
  ['size', 'The size of the thread', shapes.text(20, 1)],
  ['pitch', 'The pitch', aboveNothing],
  ['class', 'The property class', shapes.text(10)],
]
const FRICTION: described.Field[] = [
  ['k', 'The torque coefficient K', aboveNothing],
  ['thread', 'The friction in the thread', aboveNothing],
  ['head', 'The friction under the head', aboveNothing],
]

function inside(given: unknown, fields: described.Field[], where: string, thing: string): Fault[] {
  const faults = described.faultsOf(given, fields, where, thing)
  return faults.map((fault) => ({ ...fault, where: `${where}.${fault.where}` }))
}

type Add = (where: string, message: string) => void

function bolt(sheet: TighteningSheet, add: Add) {
  if (sheet.length_most && described.exact(sheet.length_most).over <= 0n) {
    add('length_most', 'The greatest length is above zero; leave it empty when there is none.')
  }
  if (sheet.bolt === 'stretch' && sheet.uses_most === 0 && sheet.length_most === '') {
    add('uses_most', 'A stretch bolt needs a limit: how often it may be tightened, or the length it may reach.')
  }
}

function holds(given: unknown[], add: Add) {
  if (given.length > MOST_HOLDS) return add('holds', `A sheet waits on at most ${MOST_HOLDS} conditions.`)
  given.forEach((hold, index) => {
    const [where, name] = [`holds.${index}`, `Condition ${index + 1}`]
    if (shapes.hasExactly(hold, ['sort', 'stage', 'item']) && hold['sort'] === 'ticked') {
      const stage = STAGES.find((one) => one.code === hold['stage'])
      if (!CODES.includes(hold['stage'] as string)) add(`${where}.stage`, `${name} names no stage of a job.`)
      else if (!stage!.checklist.some((one) => one.item === hold['item'])) {
        add(`${where}.item`, `${name} names no item of that stage's checklist.`)
      }
    } else if (shapes.hasExactly(hold, ['sort', 'procedure', 'figure', 'where']) && hold['sort'] === 'measured') {
      for (const field of ['procedure', 'figure']) {
        const code = hold[field]
        if (typeof code !== 'string' || !CODE.test(code)) add(`${where}.${field}`, `${name} has no code of a ${field}.`)
      }
      if (somePatterns(hold['where']) || !(hold['where'] as string[]).every((one) => PATTERN.test(one))) {
        add(`${where}.where`, `${name} names places such as main_bearing/*, or none.`)
      }
    } else add(where, `${name} is measured (procedure, figure, where) or ticked (stage, item); this is neither.`)
  })
}

// A tightening sheet travels in such a file; the faults of what is in one are `check`'s to find.
const FILE = new Exchange<TighteningSheet>('witnessmark tightening sheet 1', 'sheet', 'a tightening sheet')
export const writeFile = FILE.write
export const readFile = FILE.read
