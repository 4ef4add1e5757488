// Threads of bolts: reading how one is called, its geometry, its stress area, and the strength of its property class.
// The twin of trade/tightening/threads.py. Profile and diameters after ISO 68-1 and ISO 724, stress area after ISO 898-1; unified
// threads after ASME B1.1 (from memory). Exact fractions in SI, with √3 cut off after thirty decimals.

import classes from '../../../../server/witnessmark/trade/data/property_classes.json'
import table from '../../../../server/witnessmark/trade/data/threads.json'
import { by, compare, exactText, minus, plus, square, times, whole } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { Refusal } from '../ground/errors.ts'
import { PI, sqrt } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import { type Fraction, fraction } from '../ground/units.ts'

/**
 * `words` as it is said ("M10 × 1.5"); diameters and pitch in m, the area in m². `bearing` is the mean diameter of the
 * face under the head, `bearingKnown` false where it is only taken to be 1.25 diameters. `usual` false for a pitch that
 * is not in the table, `coarse` true when the pitch was not said and taken as the coarse one.
 */
export interface Thread {
  words: string
  form: 'metric' | 'unified'
  diameter: Fraction
  pitch: Fraction
  pitchDiameter: Fraction
  minorDiameter: Fraction
  rootDiameter: Fraction
  stressDiameter: Fraction
  stressArea: Fraction
  bearing: Fraction
  bearingKnown: boolean
  usual: boolean
  coarse: boolean
}

/** Least values in Pa: tensile strength, yield (or 0.2 % proof strength), stress under proof load. */
export interface Strength {
  code: string
  tensile: Fraction
  yields: Fraction
  proof: Fraction
}

type Metric = (typeof table.metric)[number]
type Unified = (typeof table.unified)[number]
const byWhat = <One>(all: One[], what: (row: One) => string): Map<string, One> =>
  new Map(all.map((row) => [what(row), row]))
export const METRIC: Map<string, Metric> = byWhat(table.metric, ({ size }) => size)
export const UNIFIED: Map<string, Unified> = byWhat(table.unified, ({ size }) => size)
export const CLASSES = classes.classes

export const MM: Fraction = fraction(1n, 1000n)
const INCH: Fraction = fraction(254n, 10000n)
const MPA = whole(1_000_000)
const KPSI = by(times(whole(1000), exact('4.4482216152605')), square(INCH))
const SQRT3 = sqrt(whole(3), 30)
const BEARING = exact(table.bearing)

const IS_METRIC = /^M ?([0-9]{1,3}(?:[.,][0-9]{1,2})?)(?: ?[X×] ?([0-9]{1,2}(?:[.,][0-9]{1,3})?))?$/
const DIAMETER = '(?:#([0-9]{1,2})|(?:([0-9])[ -])?([0-9]{1,2})/([1-9][0-9]?)|([1-9]))'
const IS_UNIFIED = new RegExp(`^${DIAMETER}(?: ?IN| ?")?(?:[ -]([1-9][0-9]?))?(?: ?(UNC|UNF|UN|UNEF))?$`)

const refuse = (where: string, message: string): never => {
  throw new Refusal('bad_value', where, message)
}

/**
 * The thread called `size`; `pitch` is decimal text in mm, "" for what the size says or the coarse pitch. Throws
 * Refusal for a thread that cannot be read or cannot be.
 */
export function thread(size: string, pitch = ''): Thread {
  const called = size.trim()
  const bare = called.split(/\s+/).join(' ').toUpperCase()
  const typed = pitch ? times(exact(pitch), MM) : null
  if (typed && typed.over <= 0n) refuse('pitch', say('tightening.thread.pitch_not_above_zero'))
  const metric = IS_METRIC.exec(bare)
  if (metric) return metricThread(called, metric, typed)
  const unified = IS_UNIFIED.exec(bare)
  if (unified) return unifiedThread(called, unified, typed)
  return refuse('size', say('tightening.thread.unknown', { size: called }))
}

function metricThread(called: string, parts: RegExpExecArray, typed: Fraction | null): Thread {
  const diameter = number(parts[1]!)
  const name = exactText(diameter)
  const row = METRIC.get(`M${name}`)
  const pitches = (row?.pitches ?? []).map((pitch) => times(exact(pitch), MM))
  const ownPitch = onePitch(called, parts[2] ? times(number(parts[2]), MM) : null, typed)
  const pitch =
    ownPitch ??
    pitches[0] ??
    refuse('pitch', say('tightening.thread.coarse_unknown', { size: `M${name}` }))
  const bearing = row?.head ? times(by(plus(exact(row.head), exact(row.hole)), whole(2)), MM) : null
  const words = `M${name} × ${exactText(by(pitch, MM))}`
  const usual = pitches.some((candidate) => compare(candidate, pitch) === 0)
  return made(words, 'metric', times(diameter, MM), pitch, bearing, usual, !ownPitch)
}

function unifiedThread(called: string, parts: RegExpExecArray, typed: Fraction | null): Thread {
  const [, wire, ones, over, under, inches, counted, series] = parts
  const [name, diameter] = namedUnified(wire, ones, over, under, inches)
  const row = UNIFIED.get(name)
  const usual: Record<string, string> = row ? { UNC: row.coarse, UNF: row.fine } : {}
  const count = counted ?? usual[series ?? '']
  const pitch =
    onePitch(called, count ? perInch(count) : null, typed) ??
    refuse('size', say('tightening.thread.no_count', { size: called }))
  const right = usual[series ?? '']
  if (right && compare(perInch(right), pitch) !== 0) {
    const about = { size: called, thread: `${name} ${series}`, threads: right }
    refuse('size', say('tightening.thread.wrong_count', about))
  }
  const seriesName = Object.keys(usual).find((code) => compare(perInch(usual[code]!), pitch) === 0) ?? ''
  const words = `${name}-${exactText(by(INCH, pitch))} ${seriesName || series || ''}`.trim()
  return made(words, 'unified', times(diameter, INCH), pitch, null, seriesName !== '', false)
}

function namedUnified(
  wire?: string,
  ones?: string,
  over?: string,
  under?: string,
  inches?: string,
): [name: string, diameter: Fraction] {
  if (wire !== undefined) return [`#${wire}`, fraction(60n + 13n * BigInt(wire), 1000n)]
  if (over === undefined) return [inches!, exact(inches!)]
  const part = fraction(BigInt(over), BigInt(under!))
  return ones ? [`${ones} ${over}/${under}`, plus(exact(ones), part)] : [`${over}/${under}`, part]
}

const perInch = (count: string): Fraction => by(INCH, exact(count))
const number = (text: string): Fraction => exact(text.replace(',', '.'))

/** The pitch of the size's own words before the one beside it; they may differ by the rounding of the latter. */
function onePitch(called: string, inside: Fraction | null, typed: Fraction | null): Fraction | null {
  if (!inside || !typed) return inside ?? typed
  const apart = minus(inside, typed)
  if (compare(apart.over < 0n ? minus(typed, inside) : apart, by(MM, whole(100))) > 0) {
    const text = exactText(by(typed, MM))
    refuse('pitch', say('tightening.thread.two_pitches', { size: called, pitch: text }))
  }
  return inside
}

function made(
  words: string,
  form: Thread['form'],
  diameter: Fraction,
  pitch: Fraction,
  bearing: Fraction | null,
  usual: boolean,
  coarse: boolean,
): Thread {
  const height = times(by(SQRT3, whole(2)), pitch)
  const [pitchDiameter, minorDiameter, rootDiameter] = (['pitch', 'minor', 'root'] as const).map((name) => {
    const [over, under] = table.flanks[form][name].split('/') as [string, string]
    return minus(diameter, times(fraction(BigInt(over), BigInt(under)), height))
  }) as [Fraction, Fraction, Fraction]
  if (pitch.over <= 0n || rootDiameter.over <= 0n) {
    refuse('pitch', say('tightening.thread.impossible', { thread: words }))
  }
  const stressDiameter = by(plus(pitchDiameter, rootDiameter), whole(2))
  return {
    words,
    form,
    diameter,
    pitch,
    pitchDiameter,
    minorDiameter,
    rootDiameter,
    stressDiameter,
    stressArea: times(by(PI, whole(4)), square(stressDiameter)),
    bearing: bearing ?? times(diameter, BEARING),
    bearingKnown: bearing !== null,
    usual,
    coarse,
  }
}

/** The strength of a property class or grade at a diameter in m; null for one that is not known there. */
export function strength(code: string, diameter: Fraction): Strength | null {
  const bare = code.trim().split(/\s+/).join(' ').toLowerCase()
  for (const row of CLASSES) {
    if (bare !== row.code.toLowerCase() && !(row.also as string[]).includes(bare)) continue
    const [length, stress] = row.system === 'metric' ? [MM, MPA] : [INCH, KPSI]
    const step = row.steps.find(([most]) => compare(diameter, times(exact(most!), length)) <= 0)
    if (!step) return null
    const [tensile, yields, proof] = step.slice(1).map((value) => times(exact(value), stress))
    return { code: row.code, tensile: tensile!, yields: yields!, proof: proof! }
  }
  return null
}
