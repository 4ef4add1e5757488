// What preload a torque may come to in a bolt: an estimate with the spread that friction brings, never a limit. The
// twin of trade/tightening/preload.py, which names the sources of both forms. Exact fractions in SI.

import table from '../../../../server/witnessmark/trade/data/friction.json'
import { by, compare, minus, plus, smallest, square, times, whole } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { Refusal } from '../ground/errors.ts'
import { PI, significant, sqrt } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import type { Strength, Thread } from './threads.ts'
import { type Fraction, fraction } from '../ground/units.ts'

const LBF: Fraction = exact('4.4482216152605') // N
const FULL_USE: Fraction = fraction(9n, 10n) // how far VDI 2230 goes towards the yield point

export interface Condition {
  code: string
  words: string
  k: string[]
  friction: string[]
}

export const CONDITIONS: Record<string, Condition> = Object.fromEntries(table.conditions.map((condition) => [condition.code, condition]))
const STATES: Record<string, string> = table.states
export const TYPED_SPREAD: Fraction = by(exact(table.typed_spread), whole(100))
const COS30 = by(sqrt(whole(3), 30), whole(2))
const TAN_SUM = exact('1.155') // 1/cos 30° as VDI 2230 prints it

/** A number that is not known well: what it usually is, and its ends. */
export interface Spread {
  usual: Fraction
  low: Fraction
  high: Fraction
}

/**
 * The torque coefficient K and the coefficients of friction; `condition` is the code of friction.json that what was not
 * typed was taken from. `kTyped` and `typed` say what the sheet says itself.
 */
export interface Friction {
  condition: string
  k: Spread
  thread: Spread
  head: Spread
  kTyped: boolean
  typed: boolean
}

/**
 * Preloads in N: by the short form, and by the long one; high where friction is low. `proof` is the load under which
 * the bolt must not stay longer, `yields` the one at its yield point, `breaks` the least one that tears it, by its stress
 * area, in N; null for a class that is not known.
 */
export interface Estimate {
  short: Spread
  long: Spread
  proof: Fraction | null
  yields: Fraction | null
  breaks: Fraction | null
}

/**
 * The friction for a state of the thread (a code of tightening sheets) and what a sheet says of it, decimal text or "".
 * What is typed counts, give or take the usual spread; thread and head go together.
 */
export function frictionOf(state: string, given: { k: string; thread: string; head: string }): Friction {
  const condition = STATES[state]!
  const usual = CONDITIONS[condition]!
  const both = given.thread !== '' && given.head !== ''
  return {
    condition,
    k: given.k ? typed(given.k) : row(usual.k),
    thread: both ? typed(given.thread) : row(usual.friction),
    head: both ? typed(given.head) : row(usual.friction),
    kTyped: given.k !== '',
    typed: both,
  }
}

function row(three: string[]): Spread {
  const [usual, low, high] = three.map(exact)
  return { usual: usual!, low: low!, high: high! }
}

function typed(text: string): Spread {
  const usual = exact(text)
  if (usual.over <= 0n) throw new Refusal('bad_value', 'friction', say('tightening.friction_not_above_zero'))
  const [low, high] = [minus(whole(1), TYPED_SPREAD), plus(whole(1), TYPED_SPREAD)]
  return { usual, low: times(usual, low), high: times(usual, high) }
}

/** The short form: the preload in N of a torque in N·m, with the diameter in m and the torque coefficient. */
const byCoefficient = (torque: Fraction, diameter: Fraction, k: Fraction): Fraction =>
  by(torque, times(k, diameter))

/** The long form's length in m, torque over preload: pitch, friction in the thread, friction under the head. */
function lever(thread: Thread, inThread: Fraction, underHead: Fraction): Fraction {
  const pitch = by(thread.pitch, times(whole(2), PI))
  const flanks = by(by(times(inThread, thread.pitchDiameter), whole(2)), COS30)
  return plus(plus(pitch, flanks), by(times(underHead, thread.bearing), whole(2)))
}

/** The preload that a torque in N·m may come to. Throws Refusal for a torque that tightens nothing. */
export function estimate(torque: Fraction, thread: Thread, friction: Friction, strong: Strength | null): Estimate {
  if (torque.over <= 0n) {
    throw new Refusal('bad_value', 'target', say('tightening.torque_not_above_zero'))
  }
  const short = (k: Fraction) => byCoefficient(torque, thread.diameter, k)
  const long = (end: keyof Spread) => by(torque, lever(thread, friction.thread[end], friction.head[end]))
  const load = (stress: Fraction | undefined) => stress ? times(stress, thread.stressArea) : null
  return {
    // The preload is highest where friction is lowest.
    short: { usual: short(friction.k.usual), low: short(friction.k.high), high: short(friction.k.low) },
    long: { usual: long('usual'), low: long('high'), high: long('low') },
    proof: load(strong?.proof),
    yields: load(strong?.yields),
    breaks: load(strong?.tensile),
  }
}

/**
 * The preload in N at which pull and twist together reach `use` of the yield point in Pa, as in VDI 2230 (from memory):
 * F = As·use·Rp / √(1 + 3·(3/2·d2/d0·(P/(π·d2) + 1.155·μ))²). The twist is that of tightening.
 */
export function atYield(thread: Thread, yields: Fraction, inThread: Fraction, use: Fraction = FULL_USE): Fraction {
  const slope = plus(by(thread.pitch, times(PI, thread.pitchDiameter)), times(TAN_SUM, inThread))
  const twist = times(by(times(fraction(3n, 2n), thread.pitchDiameter), thread.stressDiameter), slope)
  const both = sqrt(plus(whole(1), times(whole(3), square(twist))))
  return by(times(times(thread.stressArea, use), yields), both)
}

/** How far a nut that spins freely goes on in m; the bolt's own stretch is smaller, since the parts give way too. */
export const advance = (pitch: Fraction, degrees: Fraction): Fraction => by(times(pitch, degrees), whole(360))

/**
 * In words where a torque cannot be meant for a thread: even with the most friction, by both forms, it tears the bolt.
 * null where it does not, and for a class that is not known.
 */
export function tooMuch(made: Estimate, thread: Thread, strong: Strength | null): TooMuch | null {
  if (!strong || !made.breaks || compare(smallest([made.short.low, made.long.low]), made.breaks) <= 0) return null
  return { load: forceText(made.breaks, thread), thread: thread.words, strength: strong.code }
}

type TooMuch = { load: string; thread: string; strength: string }

/** A force in N as it is said: three digits that count, in kN, of a unified thread in lbf too. */
export function forceText(amount: Fraction, thread: Thread, shown = significant): string {
  const force = `${shown(by(amount, whole(1000)), 3)} kN`
  return thread.form === 'unified' ? `${force} (${shown(by(amount, LBF), 3)} lbf)` : force
}
