// The estimate of preload of a tightening sheet in words: each torque stage with its spread, what was assumed for it,
// what to mind. The twin of trade/tightening/preload_estimate.py. Made anew each time, for the desk; nothing is ever judged by it.

import { by, compare, exactText, largest, square, times, whole } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { Refusal } from '../ground/errors.ts'
import { roundDown, roundUp, significant } from '../ground/exact.ts'
import {
  advance,
  atYield,
  CONDITIONS,
  type Estimate,
  estimate,
  forceText,
  type Friction,
  frictionOf,
  type Spread,
  tooMuch,
  TYPED_SPREAD,
} from './preload.ts'
import { MM, type Strength, strength, type Thread, thread } from './threads.ts'
import type { TighteningSheet } from './sheets.ts'
import type { TighteningStage } from './stages.ts'
import { decimalText, type Fraction, toSi } from '../ground/units.ts'

export const MAKER_FIRST = "The maker's data comes first: a torque, an angle or a friction named there counts."
export const NO_LIMIT =
  'This is an estimate, no limit: a torque tells the preload only through friction, and friction is guessed.'
export const STRETCH =
  'Stretch bolts are drawn past their yield point on purpose. What they are left with is not told by a torque, and ' +
  "they are not used again beyond the maker's number of uses or length."
export const ANGLE =
  'What an angle stage ends at cannot be told from the torque before it, and is not checked with a torque afterwards ' +
  '(common practice).'
export const WHOLE =
  'Each stage is counted from nothing, with the stress area of the thread: a shank necked down bears less.'
export const WRENCH = 'The deviation of the wrench comes on top.'

export interface Told {
  words: string
  value: string
}

/** Forces, the share of the proof load or "", the friction. */
export interface PreloadLine {
  usual: string
  low: string
  high: string
  share: string
  by: string
}

export interface PreloadStage {
  code: string
  words: string
  target: string
  /** Of a nut that spins freely, for a stage by angle. */
  advance: string
  short: PreloadLine | null
  long: PreloadLine | null
}

export interface PreloadSaid {
  thread: string
  /** Why there is no estimate; all else is then empty. */
  unknown: string
  sizes: Told[]
  loads: Told[]
  stages: PreloadStage[]
  assumptions: string[]
  cautions: string[]
}

/** What of a tightening sheet the estimate goes by. */
export type Loaded = Pick<TighteningSheet, 'joint' | 'thread' | 'state' | 'bolt' | 'friction' | 'stages'>

interface Basis {
  of: Thread
  friction: Friction
  strong: Strength | null
}

/** The estimate of a sound sheet, as plain data in words. */
export function ofSheet(sheet: Loaded): PreloadSaid {
  const empty = { thread: '', unknown: '', sizes: [], loads: [], stages: [], assumptions: [], cautions: [] }
  const basis = basisOf(sheet)
  if (typeof basis === 'string') return { ...empty, unknown: basis }
  const { of, friction, strong } = basis
  const made = estimates(sheet, basis)
  return {
    thread: of.words,
    unknown: '',
    sizes: sizes(of),
    loads: loads(of, strong),
    stages: counted(sheet).map((stage) => said(stage, made.get(stage.code), of, friction)),
    assumptions: assumptions(sheet, basis),
    cautions: cautions(sheet, made, basis),
  }
}

/** What the sheet is reckoned with, or why it cannot be. */
function basisOf(sheet: Loaded): Basis | string {
  try {
    const of = thread(sheet.thread.size, sheet.thread.pitch)
    const friction = frictionOf(sheet.state, sheet.friction)
    return { of, friction, strong: strength(sheet.thread.class, of.diameter) }
  } catch (reason) {
    if (reason instanceof Refusal) return reason.message
    throw reason
  }
}

const counted = (sheet: Loaded): TighteningStage[] =>
  sheet.stages.filter(({ method, target }) => method !== 'release' && target !== '' && exact(target).over > 0n)

function estimates(sheet: Loaded, { of, friction, strong }: Basis): Map<string, Estimate> {
  const byTorque = counted(sheet).filter(({ method }) => method === 'torque')
  return new Map(
    byTorque.map(({ code, target, unit }) => [code, estimate(toSi(exact(target), unit), of, friction, strong)]),
  )
}

const target = (stage: TighteningStage) => `${stage.target} ${stage.unit}`
const mm = (length: Fraction) => `${decimalText(by(length, MM), 3)} mm`

const sizes = (of: Thread): Told[] => [
  { words: 'nominal diameter', value: mm(of.diameter) },
  { words: 'pitch', value: mm(of.pitch) },
  { words: 'pitch diameter d2', value: mm(of.pitchDiameter) },
  { words: 'minor diameter d1', value: mm(of.minorDiameter) },
  { words: 'root diameter d3', value: mm(of.rootDiameter) },
  { words: 'stress area', value: `${significant(by(of.stressArea, square(MM)), 4)} mm²` },
]

function loads(of: Thread, strong: Strength | null): Told[] {
  if (!strong) return []
  const load = (words: string, stress: Fraction) => ({ words, value: forceText(times(stress, of.stressArea), of) })
  return [
    load('proof load', strong.proof),
    load('load at the yield point', strong.yields),
    load('breaking load', strong.tensile),
  ]
}

function said(stage: TighteningStage, made: Estimate | undefined, of: Thread, friction: Friction): PreloadStage {
  return {
    code: stage.code,
    words: stage.words,
    target: target(stage),
    advance: stage.method === 'angle' ? mm(advance(of.pitch, exact(stage.target))) : '',
    short: made ? line(made.short, made.proof, of, `K ${spread(friction.k)}`) : null,
    long: made ? line(made.long, made.proof, of, rubbing(friction)) : null,
  }
}

function line(force: Spread, proof: Fraction | null, of: Thread, from: string): PreloadLine {
  let share = ''
  if (proof) {
    const percent = (end: Fraction) => by(times(end, whole(100)), proof)
    const [low, high] = [percent(force.low), percent(force.high)]
    const ends = `${low.over / low.under} to ${(high.over + high.under - 1n) / high.under}`
    share = `${decimalText(percent(force.usual), 0)} % of the proof load, from ${ends} %`
  }
  return {
    usual: forceText(force.usual, of),
    low: forceText(force.low, of, roundDown),
    high: forceText(force.high, of, roundUp),
    share,
    by: from,
  }
}

const spread = ({ usual, low, high }: Spread) =>
  `${exactText(usual, 2)}, from ${exactText(low, 2)} to ${exactText(high, 2)}`

function rubbing({ thread, head }: Friction): string {
  const same = (['usual', 'low', 'high'] as const).every((end) => compare(thread[end], head[end]) === 0)
  if (same) return `friction ${spread(thread)}, in the thread and under the head`
  return `friction ${spread(thread)}, in the thread; ${spread(head)}, under the head`
}

function assumptions(sheet: Loaded, { of, friction, strong }: Basis): string[] {
  const condition = `for a thread that is ${CONDITIONS[friction.condition]!.words}`
  const typed = `as typed, give or take ${exactText(times(TYPED_SPREAD, whole(100)))} %`
  const list: string[] = []
  if (of.coarse) list.push(`The pitch was not given: the coarse one, ${exactText(by(of.pitch, MM))} mm, is taken.`)
  const ofK = friction.kTyped ? typed : `${condition}, Shigley, table 8-15`
  list.push(`Torque coefficient K ${spread(friction.k)}: ${ofK}.`)
  const ofFriction = friction.typed ? typed : `${condition}, classes of VDI 2230, from memory`
  const rubs = rubbing(friction)
  list.push(`${rubs[0]!.toUpperCase()}${rubs.slice(1)}: ${ofFriction}.`)
  const face = of.bearingKnown ? 'a hexagon head on its usual hole' : 'taken as 1.25 nominal diameters'
  list.push(`Mean diameter of the face under the head ${mm(of.bearing)}: ${face}.`)
  if (!strong) {
    const code = sheet.thread.class.trim()
    const reason = code ? `Class ${code} is not known here for ${of.words}` : 'No property class is given'
    list.push(`${reason}, so there is no share of a proof load.`)
  }
  return [...list, WHOLE, WRENCH]
}

function cautions(sheet: Loaded, made: Map<string, Estimate>, { of, friction, strong }: Basis): string[] {
  const list = [MAKER_FIRST, NO_LIMIT]
  if (!of.usual) list.push(`${of.words} is no usual pitch of that size. Look at the thread.`)
  if (sheet.bolt === 'stretch') list.push(STRETCH)
  if (sheet.stages.some(({ method }) => method === 'angle')) list.push(ANGLE)
  if (!strong) return list
  for (const { code, words } of sheet.stages) {
    const one = made.get(code)
    if (!one?.proof) continue
    const reason = tooMuch(one, of, strong)
    if (reason) list.push(`${words}: ${reason}.`)
    else if (compare(one.long.high, atYield(of, strong.yields, friction.thread.low, whole(1))) >= 0) {
      list.push(`${words}: with the least friction, pull and twist together reach the yield point.`)
    } else if (compare(largest([one.short.high, one.long.high]), one.proof) > 0) {
      list.push(`${words}: with the least friction, the preload passes the proof load.`)
    }
  }
  return list
}
