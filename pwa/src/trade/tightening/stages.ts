// The stages of a tightening sheet: their check, and which of them a run in one direction goes through. The twin of
// trade/tightening_stages.py, which says what the fields mean.

import { compare } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import type { Fault } from '../ground/errors.ts'
import { loosening } from './sequence.ts'
import * as shapes from '../ground/shapes.ts'
import type { Check } from '../ground/shapes.ts'
import { UNITS } from '../ground/units.ts'

export type Method = 'torque' | 'angle' | 'release'
export type Direction = 'tighten' | 'loosen'

/** Numbers are decimal text in `unit`; a release stage without a target has "" in all four. */
export interface TighteningStage {
  code: string
  words: string
  method: Method
  target: string
  unit: string
  minus: string
  plus: string
  /** Each fastener of the joint once. */
  order: string[]
  /** True until a person has confirmed a proposed order. */
  proposed: boolean
  after: string
}

export const METHODS: Record<Method, string> = { torque: 'torque', angle: 'angle', release: 'letting go' }
export const KINDS: Record<Method, string[]> = { torque: ['torque'], angle: ['angle'], release: ['torque', 'angle'] }
export const MOST_STAGES = 20
export const MOST_FASTENERS = 200

const CODE = /^[a-z0-9_]{1,12}$/
const LABEL = /^[A-Za-z0-9_]{1,12}$/

const code: Check = (value) =>
  typeof value === 'string' && CODE.test(value) ? null : 'is no code of at most 12 small letters, digits and _'

const order: Check = (value) => {
  if (!Array.isArray(value) || !value.length || value.length > MOST_FASTENERS) {
    return `is no list of 1 to ${MOST_FASTENERS} fasteners`
  }
  return value.every((one) => typeof one === 'string' && LABEL.test(one)) ? null : 'names what is no fastener'
}

const FIELDS: described.Field[] = [
  ['code', 'The code', code],
  ['words', 'The name', shapes.text(60, 1)],
  ['method', 'The method', described.oneOf(Object.keys(METHODS), 'is none of torque, angle and release')],
  ['target', 'The target', described.numberOrNothing],
  ['unit', 'The unit', described.unit],
  ['minus', 'What is permitted below', described.numberOrNothing],
  ['plus', 'What is permitted above', described.numberOrNothing],
  ['order', 'The order', order],
  ['proposed', 'Proposed', shapes.yesNo],
  ['after', 'What goes before', shapes.text(120)],
]

/** Code of a joint, labels of its fasteners. */
export type JointLabels = [code: string, labels: string[]]

type Add = (where: string, message: string) => void

/**
 * All faults of a sheet's stages. Each order names the fasteners of each of `joints` once; without joints all orders
 * name the same fasteners as the first.
 */
export function checkStages(stages: unknown[], joints: JointLabels[]): Fault[] {
  if (!stages.length || stages.length > MOST_STAGES) {
    return [{ where: 'stages', message: `A sheet has 1 to ${MOST_STAGES} stages.` }]
  }
  const faults: Fault[] = []
  const add: Add = (where, message) => faults.push({ where, message })
  const codes = new Set<string>()
  let against = joints
  stages.forEach((given, index) => {
    const where = `stages.${index}`
    const found = described.faultsOf(given, FIELDS, '', 'A stage')
    for (const one of found) add(one.where ? `${where}.${one.where}` : where, `Stage ${index + 1}: ${one.message}`)
    if (found.length) return
    const stage = given as TighteningStage
    if (codes.has(stage.code)) add(`${where}.code`, `Two stages have the code ${stage.code}.`)
    codes.add(stage.code)
    target(where, stage, add)
    if (!against.length) against = [['', stage.order]]
    checkOrder(where, stage, against, add)
  })
  return faults
}

function target(where: string, stage: TighteningStage, add: Add) {
  const { words, method } = stage
  if (stage.target === '') {
    if (method !== 'release') return add(`${where}.target`, `${words}: the target is missing.`)
    const bad = (['unit', 'minus', 'plus'] as const).find((name) => stage[name] !== '')
    if (bad) add(`${where}.${bad}`, `${words}: without a target ${bad} is empty too.`)
    return
  }
  let sound = true
  const note: Add = (at, message) => {
    sound = false
    add(at, message)
  }
  if (!KINDS[method].includes(UNITS[stage.unit]!.kind)) {
    const unit = stage.unit || 'A plain number'
    note(`${where}.unit`, `${words}: ${unit} is no unit of ${KINDS[method].join(' or ')}.`)
  }
  if (described.exact(stage.target).over <= 0n) {
    note(`${where}.target`, `${words}: the target ${stage.target} is not above zero.`)
  }
  for (const [name, side] of [['minus', 'below'], ['plus', 'above']] as const) {
    if (stage[name] === '' || described.exact(stage[name]).over < 0n) {
      const reason = `say how much is permitted ${side} the target, without a sign; 0 for nothing`
      note(`${where}.${name}`, `${words}: ${reason}.`)
    }
  }
  if (sound && compare(described.exact(stage.minus), described.exact(stage.target)) >= 0) {
    add(`${where}.minus`, `${words}: ${stage.minus} below ${stage.target} leaves nothing.`)
  }
}

function checkOrder(where: string, stage: TighteningStage, joints: JointLabels[], add: Add) {
  const { order: given, words } = stage
  const once = [...new Set(given)]
  for (const label of once) {
    if (given.indexOf(label) !== given.lastIndexOf(label)) {
      add(`${where}.order`, `${words}: fastener ${label} stands twice in the order.`)
    }
  }
  const missed = new Map<string, string[]>()
  const strange = new Map<string, string[]>()
  for (const [joint, labels] of joints) {
    const lost = labels.filter((label) => !given.includes(label))
    if (lost.length) missed.set(fasteners(lost), [...(missed.get(fasteners(lost)) ?? []), joint])
    const more = once.filter((label) => !labels.includes(label))
    if (more.length) strange.set(fasteners(more), [...(strange.get(fasteners(more)) ?? []), joint])
  }
  for (const [which, codes] of missed) {
    add(`${where}.order`, `${words}: the order misses ${which}${codes[0] ? ` of ${listed(codes)}` : ''}.`)
  }
  for (const [which, codes] of strange) {
    const has = codes.length === 1 ? 'has' : 'have'
    const at = codes[0] ? `${listed(codes)} ${has} not` : 'the first stage does not'
    add(`${where}.order`, `${words}: the order names ${which}, which ${at}.`)
  }
}

/** "3", "3 and 4", "3, 4 and 5". */
export function listed(names: string[]): string {
  return names.length === 1 ? names[0]! : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
}

export const fasteners = (labels: string[]) => `fastener${labels.length === 1 ? '' : 's'} ${listed(labels)}`

/**
 * The stages that a run goes through. Tightening goes through all, in their order. Loosening goes through the stages of
 * a sheet that has release stages only; any other sheet is loosened in one stage, in the exact reverse of the order of
 * its last stage.
 */
export function stagesOf(sheet: { stages: TighteningStage[] }, direction: Direction): TighteningStage[] {
  const given = sheet.stages
  if (direction === 'tighten' || given.every((stage) => stage.method === 'release')) return given
  const last = given[given.length - 1]!
  return [
    {
      code: 'release', words: 'Let go', method: 'release', target: '', unit: '', minus: '', plus: '',
      order: loosening(last.order), proposed: last.proposed, after: '',
    },
  ]
}
