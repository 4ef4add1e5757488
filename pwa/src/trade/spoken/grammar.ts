// The grammar of one screen, made from the vocabulary table and the engine: what can be said there, and little else.
// The twin of trade/spoken/grammar.py, which says why it is as it is. Limits and nominal sizes are not in here.

import table from '../../../../server/witnessmark/trade/data/procedures.json'
import { NOTHING, Rules, type Ways, maybe, oneOf, wordsOf } from './jsgf.ts'
import { FASTENER_PARTS, type EngineType } from '../engine/parts.ts'
import { dictionary, distinct, pronounceable, tokenOf } from './pronunciation.ts'
import { number, partOfUnit } from './number_rules.ts'
import { type Grid, fastener, partsOf, place, points } from './place_rules.ts'
import type { OwnWord, Screen } from './types.ts'
import { TABLE, conditionPhrases, plain } from './words.ts'
import { QUANTITIES, UNITS } from '../ground/units.ts'
import { conditionsFor } from '../engine/vocabulary.ts'

export { dictionary, wordsOf }

const PROCEDURES = new Map<string, Grid>(table.procedures.map((procedure) => [procedure.code, procedure]))
const SEPARATORS: Ways = [[5, 'is'], [3, 'reads'], [1, 'at'], [1, 'measures']]
const STATES: Ways = [[5, 'is'], [1, 'are'], [1, 'looks']]
const HOW: Ways = [[2, 'badly'], [2, 'slightly'], [1, 'heavily'], [1, 'lightly']]
const NOT: Ways = [[4, 'not'], [2, 'no'], [1, 'no sign of']]
const UNSURE_UNITS: Record<string, string[]> = { length: ['mil', 'mils'], torque: ['pounds', 'newtons'], pressure: ['pounds'] }
const WITH_THOUSANDS = ['speed', 'pressure']
// More places than these stand in a grammar once, whatever the order: a decoder takes long over a large one.
const MANY_PARTS = 10
const COMMON = ['no scrap that', 'scrap that']

/** The grammar of a screen as JSGF 1.0, with one public rule, <line>. Every word of it is in `dictionary`. */
export function grammar(screen: Screen, engineType: EngineType | null, own: OwnWord[] = []): string {
  const rules = new Rules()
  // A word of the workshop that nobody can pronounce is never heard; all others are.
  const known = own.filter(pronounceable)
  const line = new Line(rules, screen, engineType, known)
  const phrase =
    screen.sort === 'finding'
      ? rules.add('finding', line.finding())
      : screen.sort === 'any'
        ? rules.add('anything', line.anything())
        : rules.add('reading', line.reading())
  const loose = known.filter((word) => word.means === '').map((word): [number, string] => [1, tokenOf(word.word)])
  const before = loose.length ? `${maybe(rules.add('own', loose), 1, 10)} ` : ''
  // Several ways that say the same are one piece, so that the figures stand in the grammar once.
  const again = maybe(oneOf(['no i mean', 'i mean', 'correction', 'sorry'].map((phrase) => [1, phrase])), 1, 200)
  rules.add('withdraw', TABLE.corrections.withdraw.map((phrase) => [COMMON.includes(phrase) ? 3 : 1, phrase]))
  rules.add('line', [[95, `${before}${again} ${phrase}`], [5, '<withdraw>']])
  return rules.text('line')
}

/** The parts of a line on one screen. */
class Line {
  private readonly here: string
  private readonly procedure: Grid | undefined
  private readonly has: string[]

  constructor(
    private readonly rules: Rules,
    private readonly screen: Screen,
    private readonly engineType: EngineType | null,
    private readonly own: OwnWord[],
  ) {
    this.here = screen.place.split('/')[0]!
    this.procedure = PROCEDURES.get(screen.procedure)
    this.has = partsOf(engineType)
  }

  /** Place, point and quantity in any usual order, then the figures and their unit. */
  reading(): Ways {
    const parts = this.measuredParts()
    const quantity = this.quantities()
    const its = this.pointsHere()
    const where = this.places(parts)
    const read = `${separator()} ${this.value()}`
    if (quantity && parts.length > MANY_PARTS) {
      return [[1, `${maybe(quantity, 1, 12)} ${maybe(where, 8, 10)} ${maybe(quantity, 2, 5)} ${read}`]]
    }
    // What the screen shows is left out as often as not.
    const ways: Ways = [[6, quantity ? `${where} ${maybe(quantity, 1, 2)}` : where], [this.here ? 6 : 1, NOTHING]]
    if (quantity) ways.push([2, quantity], [1, `${quantity} ${where}`])
    if (its) ways.push([1, its])
    return [[1, `${oneOf(ways)} ${read}`]]
  }

  /** Place, state and what is to be done; a place that the screen shows need not be said. */
  finding(): Ways {
    const where = this.places(this.ofEngine([this.here, ...this.has]))
    return [[1, `${this.here ? maybe(where, 7, 10) : where} ${this.found()}`]]
  }

  /** A reading or a finding. The places of a whole engine are many, so they stand in the grammar once. */
  anything(): Ways {
    const where = this.places(this.ofEngine([this.here, ...this.has]))
    const quantity = this.quantities()
    const read = `${maybe(quantity, 2, 5)} ${separator()} ${this.value()}`
    return [[1, `${maybe(quantity, 1, 12)} ${maybe(where, 8, 10)} ${oneOf([[3, read], [2, this.found()]])}`]]
  }

  private found(): string {
    const state = this.state()
    const act = this.disposition()
    return oneOf([[6, `${state} ${maybe(act, 1, 2)}`], [2, act]])
  }

  // Where.

  /** The part of the screen, and those where the same is measured. */
  private measuredParts(): string[] {
    const codes = this.here ? [this.here] : []
    const quantity = QUANTITIES.find(({ code }) => code === this.screen.quantity)
    if (this.procedure) codes.push(this.procedure.part)
    else if (quantity) codes.push(...quantity.parts)
    if (this.screen.sort === 'tighten' && !this.here) codes.push(...FASTENER_PARTS)
    const its = this.ofEngine(codes)
    return its.length ? its : this.has
  }

  private ofEngine(parts: string[]): string[] {
    return [...new Set(parts)].filter((part) => this.has.includes(part))
  }

  private places(parts: string[]): string {
    const ways = parts.map((part): [number, string] => {
      const where = place(this.rules, this.engineType, part, this.own)
      const its = this.screen.sort === 'finding' ? '' : this.points(part)
      return [part === this.here ? 4 : 1, its ? `${where} ${maybe(its, part === this.here ? 3 : 1, 6)}` : where]
    })
    if (this.screen.sort === 'tighten' && FASTENER_PARTS.includes(this.here)) {
      ways.push([4, fastener(this.rules, this.engineType, this.here)])
    }
    return this.rules.add('place', ways)
  }

  private pointsHere(): string {
    return this.has.includes(this.here) ? this.points(this.here) : ''
  }

  private points(part: string): string {
    return points(this.rules, part, this.procedure?.part === part ? this.procedure : null)
  }

  // What.

  /** The rule of what is measured: the one of the screen, or all that the parts in question have. */
  private quantities(): string {
    const { sort, quantity } = this.screen
    const parts = this.measuredParts()
    const those = QUANTITIES.filter((candidate) => candidate.parts.some((part) => parts.includes(part))).map(({ code }) => code)
    const codes = sort === 'tighten' ? ['torque', 'angle'] : quantity ? [quantity] : those
    const ways = codes.flatMap((code) => weighed([...distinct(phrasesOf(TABLE.quantities, code)), ...this.ownFor(`quantity:${code}`)], 2))
    return ways.length ? this.rules.add('quantity', ways) : ''
  }

  private value(): string {
    const codes = this.unitCodes()
    const kinds = new Set(codes.map((code) => UNITS[code]!.kind))
    const figures = number(this.rules, WITH_THOUSANDS.some((kind) => kinds.has(kind)))
    // A unit that is seldom said at the bench should not be what an unclear sound ends up as.
    const ways = codes.flatMap((code) =>
      weighed(distinct(UNITS[code]!.said), 3).map(([n, phrase]): [number, string] => [n * (UNITS[code]!.heard === 'seldom' ? 1 : 5), phrase]),
    )
    const unsure = new Set([...kinds].sort().flatMap((kind) => UNSURE_UNITS[kind] ?? []))
    for (const word of unsure) ways.push([1, word])
    if (!ways.length) return figures
    const value = `${figures} ${maybe(this.rules.add('unit', ways), 9, 10)}`
    const small = ['mm', 'in'].filter((code) => codes.includes(code))
    if (!small.length || this.screen.quantity === 'diameter') return value
    const of = oneOf(small.map((code) => [1, UNITS[code]!.said[1]!]))
    return oneOf([[40, value], [1, partOfUnit(this.rules, of)]])
  }

  /** The units that can be said: those offered on the screen, else all that the quantities may have. */
  private unitCodes(): string[] {
    const its = (quantity: string) => QUANTITIES.find(({ code }) => code === quantity)?.units
    const { units, sort, quantity } = this.screen
    const codes = units.length
      ? units
      : sort === 'tighten'
        ? [...its('torque')!, ...its('angle')!]
        : (its(quantity) ?? Object.keys(UNITS))
    return codes.filter((code) => code && Object.hasOwn(UNITS, code))
  }

  // How it is, and what is to be done.

  private state(): string {
    const phrases = conditionPhrases()
    const ways = new Map<string, number>()
    for (const word of conditionsFor(this.here)) {
      for (const [weight, phrase] of weighed([...distinct(phrases[word]!), ...this.ownFor(`condition:${word}`)], 3)) {
        if (!ways.has(phrase)) ways.set(phrase, weight)
      }
    }
    const condition = this.rules.add('condition', [...ways].map(([phrase, weight]) => [weight, phrase]))
    const how = oneOf([[9, NOTHING], ...HOW])
    const seen = `${maybe(oneOf(STATES), 1, 3)} ${maybe(oneOf(NOT), 1, 15)} ${how}`
    return this.rules.add('state', [[1, `${seen} ${condition} ${maybe(`and ${condition}`, 1, 8)}`]])
  }

  private disposition(): string {
    const ways = Object.entries(TABLE.dispositions).flatMap(([code, phrases]) =>
      weighed([...distinct(phrases.map(plain)), ...this.ownFor(`disposition:${code}`)], 3),
    )
    return this.rules.add('disposition', ways)
  }

  private ownFor(means: string): string[] {
    return this.own.filter((word) => word.means === means).map((word) => tokenOf(word.word))
  }
}

const separator = () => maybe(oneOf(SEPARATORS), 1, 8)

/** The first of several phrases is said most. */
const weighed = (phrases: string[], first: number): Ways => phrases.map((phrase, at) => [at === 0 ? first : 1, phrase])

const phrasesOf = (list: object, code: string): string[] =>
  Object.hasOwn(list, code) ? (list as Record<string, string[]>)[code]! : []
