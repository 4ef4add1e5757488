// The estimate of preload of a tightening sheet in words: each torque stage with its spread, what was assumed for it,
// what to mind. The twin of trade/tightening/preload_estimate.py. Made anew each time, for the desk; nothing is ever judged by it.

import { by, compare, exactText, largest, square, times, whole } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { Refusal } from '../ground/errors.ts'
import { roundDown, roundUp, significant } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import { advance, atYield, CONDITIONS, estimate, forceText, frictionOf, tooMuch, TYPED_SPREAD } from './preload.ts'
import type { Estimate, Friction, Spread } from './preload.ts'
import { MM, type Strength, strength, type Thread, thread } from './threads.ts'
import type { TighteningSheet } from './sheets.ts'
import type { TighteningStage } from './stages.ts'
import { decimalText, type Fraction, toSi } from '../ground/units.ts'

const MAKER_FIRST = say('tightening.estimate.maker_first')
const NO_LIMIT = say('tightening.estimate.no_limit')
const STRETCH = say('tightening.estimate.stretch')
const ANGLE = say('tightening.estimate.angle')
const WHOLE = say('tightening.estimate.whole')
const WRENCH = say('tightening.estimate.wrench')
export const STRESS_AREA = say('tightening.estimate.stress_area')

export interface Labelled {
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

export interface PreloadWords {
  thread: string
  /** Why there is no estimate; all else is then empty. */
  unknown: string
  sizes: Labelled[]
  loads: Labelled[]
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
export function ofSheet(sheet: Loaded): PreloadWords {
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
    stages: counted(sheet).map((stage) => preloadStage(stage, made.get(stage.code), of, friction)),
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

const sizes = (of: Thread): Labelled[] => [
  { words: say('tightening.estimate.nominal_diameter'), value: mm(of.diameter) },
  { words: say('tightening.estimate.pitch'), value: mm(of.pitch) },
  { words: say('tightening.estimate.pitch_diameter'), value: mm(of.pitchDiameter) },
  { words: say('tightening.estimate.minor_diameter'), value: mm(of.minorDiameter) },
  { words: say('tightening.estimate.root_diameter'), value: mm(of.rootDiameter) },
  { words: STRESS_AREA, value: `${significant(by(of.stressArea, square(MM)), 4)} mm²` },
]

function loads(of: Thread, strong: Strength | null): Labelled[] {
  if (!strong) return []
  const load = (words: string, stress: Fraction) => ({ words, value: forceText(times(stress, of.stressArea), of) })
  return [
    load(say('tightening.estimate.proof_load'), strong.proof),
    load(say('tightening.estimate.yield_load'), strong.yields),
    load(say('tightening.estimate.breaking_load'), strong.tensile),
  ]
}

function preloadStage(stage: TighteningStage, made: Estimate | undefined, of: Thread, friction: Friction): PreloadStage {
  return {
    code: stage.code,
    words: stage.words,
    target: target(stage),
    advance: stage.method === 'angle' ? mm(advance(of.pitch, exact(stage.target))) : '',
    short: made ? line(made.short, made.proof, of, say('tightening.estimate.by_k', { spread: spread(friction.k) })) : null,
    long: made ? line(made.long, made.proof, of, rubbing(friction)) : null,
  }
}

function line(force: Spread, proof: Fraction | null, of: Thread, from: string): PreloadLine {
  let share = ''
  if (proof) {
    const percent = (end: Fraction) => by(times(end, whole(100)), proof)
    const [low, high] = [percent(force.low), percent(force.high)]
    share = say('tightening.estimate.share', {
      usual: decimalText(percent(force.usual), 0),
      low: `${low.over / low.under}`,
      high: `${(high.over + high.under - 1n) / high.under}`,
    })
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
  say('tightening.estimate.spread', { usual: exactText(usual, 2), low: exactText(low, 2), high: exactText(high, 2) })

const alike = ({ thread, head }: Friction) =>
  (['usual', 'low', 'high'] as const).every((end) => compare(thread[end], head[end]) === 0)

function rubbing(friction: Friction): string {
  const [thread, head] = [spread(friction.thread), spread(friction.head)]
  if (alike(friction)) return say('tightening.estimate.friction_alike', { spread: thread })
  return say('tightening.estimate.friction_apart', { thread, head })
}

function kAssumed(friction: Friction): string {
  const of = spread(friction.k)
  if (friction.kTyped) return say('tightening.estimate.k_typed', { spread: of, percent: typedPercent() })
  return say('tightening.estimate.k_table', { spread: of, condition: CONDITIONS[friction.condition]!.words })
}

/** Thread and head differ only where both were typed. */
function frictionAssumed(friction: Friction): string {
  const [thread, head, percent] = [spread(friction.thread), spread(friction.head), typedPercent()]
  if (!alike(friction)) return say('tightening.estimate.friction_apart_typed', { thread, head, percent })
  if (friction.typed) return say('tightening.estimate.friction_alike_typed', { spread: thread, percent })
  const condition = CONDITIONS[friction.condition]!.words
  return say('tightening.estimate.friction_alike_table', { spread: thread, condition })
}

const typedPercent = () => exactText(times(TYPED_SPREAD, whole(100)))

function assumptions(sheet: Loaded, { of, friction, strong }: Basis): string[] {
  const list: string[] = []
  if (of.coarse) list.push(say('tightening.estimate.coarse', { pitch: exactText(by(of.pitch, MM)) }))
  list.push(kAssumed(friction), frictionAssumed(friction))
  const face = { diameter: mm(of.bearing) }
  list.push(of.bearingKnown ? say('tightening.estimate.bearing_known', face) : say('tightening.estimate.bearing_taken', face))
  const code = sheet.thread.class.trim()
  if (!strong && code) list.push(say('tightening.estimate.class_unknown', { strength: code, thread: of.words }))
  else if (!strong) list.push(say('tightening.estimate.class_missing'))
  return [...list, WHOLE, WRENCH]
}

function cautions(sheet: Loaded, made: Map<string, Estimate>, { of, friction, strong }: Basis): string[] {
  const list = [MAKER_FIRST, NO_LIMIT]
  if (!of.usual) list.push(say('tightening.estimate.unusual_pitch', { thread: of.words }))
  if (sheet.bolt === 'stretch') list.push(STRETCH)
  if (sheet.stages.some(({ method }) => method === 'angle')) list.push(ANGLE)
  if (!strong) return list
  for (const { code, words } of sheet.stages) {
    const estimate = made.get(code)
    if (!estimate?.proof) continue
    const load = tooMuch(estimate, of, strong)
    if (load) list.push(say('tightening.too_much_in_stage', { stage: words, ...load }))
    else if (compare(estimate.long.high, atYield(of, strong.yields, friction.thread.low, whole(1))) >= 0) {
      list.push(say('tightening.estimate.reaches_yield', { stage: words }))
    } else if (compare(largest([estimate.short.high, estimate.long.high]), estimate.proof) > 0) {
      list.push(say('tightening.estimate.passes_proof', { stage: words }))
    }
  }
  return list
}
