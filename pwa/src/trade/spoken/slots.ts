// One breath of speech as slots: what it says of place, point, quantity, value, unit, conditions and disposition. The twin
// of trade/spoken/slots.py.

import type { Place } from '../engine/locations.ts'
import { PARTS, type EngineType } from '../engine/parts.ts'
import type { Item } from './items.ts'
import { readNumber, type Spoken } from './numbers.ts'
import { bankNamed } from './places.ts'
import { settle, type Settled } from './settle.ts'
import type { Screen } from './types.ts'
import { walk, type Run, type Walk } from './walk.ts'
import { OPPOSITES, pointPieces } from './words.ts'
import { QUANTITIES } from '../ground/units.ts'

/**
 * What one breath says. `placeNamed`: a place was spoken of, found (`place`) or not. Each `Doubt`: it was said so that a
 * person must choose.
 */
export interface Slots {
  place: string
  placeNamed: boolean
  placeFromScreen: boolean
  point: string
  pointDoubt: boolean
  quantity: string
  quantityDoubt: boolean
  value: string
  valueTo: string
  digitsDoubt: boolean
  maybe: string[]
  unit: string
  unitDoubt: boolean
  conditions: string[]
  conditionDoubt: boolean
  disposition: string
  dispositionDoubt: boolean
  left: string[]
  known: number
  unknown: number
  otherFigure: boolean
  withdrawn: boolean
}

const emptySlots = (): Slots => ({
  place: '', placeNamed: false, placeFromScreen: false, point: '', pointDoubt: false, quantity: '', quantityDoubt: false,
  value: '', valueTo: '', digitsDoubt: false, maybe: [], unit: '', unitDoubt: false, conditions: [], conditionDoubt: false,
  disposition: '', dispositionDoubt: false, left: [], known: 0, unknown: 0, otherFigure: false, withdrawn: false,
})

const unique = <T>(list: T[]): T[] => [...new Set(list)]

/** The slots of one breath, on this engine and screen. */
export function slots(items: Item[], screen: Screen, engine: EngineType | null, places: Place[] | null): Slots {
  const shown = screen.place.split('/')[0]!
  // "Journal three" on a screen that measures main journals is a main journal.
  const named = walk(items, shown, screen.sort === 'measure' || screen.sort === 'tighten')
  otherSide(named, screen.place)
  const filledSlots = { ...emptySlots(), left: named.left, known: named.known, unknown: named.unknown, otherFigure: named.otherFigure }
  const parts = partsOf(named, shown)
  const points = pointsOf(named, parts, engine)
  const banks = unique(named.banks.map((bank) => bankNamed(engine, bank)))
  const sides = unique(named.sides)
  const where = {
    mentions: named.mentions,
    bank: banks.length === 1 ? banks[0]! : '',
    side: sides.length === 1 ? sides[0]! : '',
  }
  const settled = settle(named, where, { places, engine, onScreen: screen.place }, degreesOf(named, parts, screen))
  setPlace(filledSlots, named, settled, screen, banks)
  setPoint(filledSlots, [...points, ...settled.degrees.map((degree) => `${degree} deg`), ...clock(named)], settled, parts)
  setValues(filledSlots, named, settled)
  setQuantity(filledSlots, named, settled.place ? [settled.place.split('/')[0]!] : parts, filledSlots.value !== '' || filledSlots.maybe.length > 0)
  setFindings(filledSlots, named)
  return filledSlots
}

/** "Exhaust" alone, on the screen of an inlet valve: that of the same cylinder. */
function otherSide(named: Walk, onScreen: string): void {
  const [part = '', cylinder] = onScreen.split('/')
  if (named.mentions.length || !named.sides.length || !cylinder) return
  if (!['valve', 'lobe'].includes(PARTS[part]?.per ?? '')) return
  named.mentions.push({ parts: [part], context: false, loose: false, numbers: [cylinder] })
}

/** The parts it can be about: those named, else that of the screen. */
function partsOf(named: Walk, shown: string): string[] {
  const parts = named.mentions.flatMap((mention) => mention.parts)
  return !parts.length && Object.hasOwn(PARTS, shown) ? [shown] : unique(parts)
}

/** The degrees that are points of the part, "0" and "90" of a journal, unless an angle is what is measured. */
function degreesOf(named: Walk, parts: string[], screen: Screen): string[] {
  const angle = named.quantities.some((codes) => codes.length === 1 && codes[0] === 'angle')
  if (screen.sort === 'tighten' || screen.quantity === 'angle' || angle) return []
  const pieces = parts.flatMap(pointPieces)
  return pieces.filter((piece) => piece.endsWith(' deg')).map((piece) => piece.slice(0, -' deg'.length))
}

/** The pieces of a point that were said; left and right become the bank where the part has no such point. */
function pointsOf(named: Walk, parts: string[], engine: EngineType | null): string[] {
  const has = parts.flatMap(pointPieces)
  const points: string[] = []
  for (const [phrase, pieces] of named.points) {
    const fitting = pieces.filter((piece) => has.includes(piece))
    if (fitting.length || !has.length) points.push((fitting.length ? fitting : pieces)[0]!)
    else named.left.push(phrase)
  }
  for (const [phrase, name, pieces] of named.maybeBanks) {
    const piece = pieces.find((piece) => has.includes(piece))
    if (piece) points.push(piece)
    else if (bankNamed(engine, name)) named.banks.push(name)
    else named.left.push(phrase)
  }
  return unique(points)
}

function clock(named: Walk): string[] {
  const hours = named.runs.filter((run) => run.clock).map((run) => readNumber(run.tokens))
  return hours.flatMap((hour) => (hour?.text ? [`${hour.text} o'clock`] : []))
}

function setPlace(filledSlots: Slots, named: Walk, settled: Settled, screen: Screen, banks: string[]): void {
  const unplaced = named.doubtful.includes('place')
  const sides = unique(named.sides).length
  filledSlots.place = settled.place
  filledSlots.placeNamed = named.mentions.length > 0 || named.banks.length > 0 || sides > 0 || unplaced
  if (settled.placeDoubt || banks.includes('') || banks.length > 1 || sides > 1 || unplaced) {
    filledSlots.place = ''
    return
  }
  if (filledSlots.place || !screen.place) return
  // "The bore reads ...": the one on the screen, when no number or side says otherwise.
  const bare = named.mentions.every((mention) => !mention.numbers.length) && !sides && !named.banks.length
  const shown = screen.place.split('/')[0]!
  const same = named.mentions.length > 0 && named.mentions.every((mention) => mention.loose || mention.parts.includes(shown))
  filledSlots.placeFromScreen = bare && same && !settled.counted
}

function setPoint(filledSlots: Slots, codes: string[], settled: Settled, parts: string[]): void {
  const part = settled.place ? settled.place.split('/')[0]! : parts.length === 1 ? parts[0]! : ''
  if (OPPOSITES.some((group) => codes.filter((piece) => group.includes(piece)).length > 1)) {
    filledSlots.pointDoubt = true
    return
  }
  let pieces = codes
  if (Object.hasOwn(PARTS, part)) {
    const exact = PARTS[part]!.points.find((point) => pieces.length > 0 && sameSet(point.split(', '), pieces))
    if (exact) {
      filledSlots.point = exact
      return
    }
    const order = pointPieces(part)
    const rank = (piece: string) => (order.includes(piece) ? order.indexOf(piece) : order.length)
    pieces = [...pieces].sort((a, b) => rank(a) - rank(b))
  }
  filledSlots.point = pieces.join(', ')
}

function sameSet(a: string[], b: string[]): boolean {
  return a.every((code) => b.includes(code)) && b.every((code) => a.includes(code))
}

function setValues(filledSlots: Slots, named: Walk, settled: Settled): void {
  const { values } = settled
  const [first, second] = values
  const ranged = values.length === 2 && first![0].to && (!first![0].unit || first![0].unit === second![0].unit)
  if (settled.doubt) filledSlots.maybe = unique(settled.maybe)
  const halves = halfBehind(values)
  if (halves !== null) filledSlots.maybe = [halves]
  filledSlots.digitsDoubt = digitsDoubt(settled, ranged, named.noReading)
  const units = unique([...values.flatMap(([run]) => run.unit || []), ...named.units])
  filledSlots.unit = units.length === 1 && !named.unsureUnit ? units[0]! : ''
  filledSlots.unitDoubt = named.unsureUnit || units.length > 1
  if (!first) return
  if (filledSlots.digitsDoubt) {
    const ways = values.flatMap(([, value]) => [value.text, ...value.maybe]).filter(Boolean)
    filledSlots.maybe = unique([...filledSlots.maybe, ...ways])
    return
  }
  filledSlots.value = first[1].text
  if (ranged) {
    filledSlots.valueTo = second![1].text
    filledSlots.maybe = [filledSlots.value, filledSlots.valueTo]
  }
}

/** Whether a person must choose the digits: several numbers that are no pair, or one that can be read two ways. */
function digitsDoubt({ doubt, values }: Settled, ranged: boolean, noReading: boolean): boolean {
  if (doubt || (values.length > 1 && !ranged) || (values.length > 0 && noReading)) return true
  return values.some(([run, value]) => isDoubtful(run, value))
}

/** Several readings; an end that got lost; "two tenths" of nothing; "ten thousandths", which is ten of them or a ten-thousandth. */
function isDoubtful(run: Run, value: Spoken): boolean {
  if (!value.text || run.cut || (value.partsOf && !run.unitSaid.startsWith('of'))) return true
  return run.unitSaid.includes('thousandth') && ['ten', 'hundred'].includes(run.tokens.at(-1)!.text)
}

/** "three thou and a half". */
function halfBehind(values: [Run, Spoken][]): string | null {
  const [first, second] = values
  if (values.length !== 2 || !first || !second || !/^[0-9]+$/.test(first[1].text) || second[0].unit) return null
  const [whole, part] = second[1].text.split('.')
  return whole === '0' && part !== undefined && first[0].unit ? `${first[1].text}.${part}` : null
}

function setQuantity(filledSlots: Slots, named: Walk, parts: string[], withValue: boolean): void {
  const fitting = named.quantities.map((codes) => ofPart(codes, parts))
  if (withValue) fitting.push(...named.bending.map(([, quantity]) => quantity))
  const quantities = unique(fitting)
  if (quantities.length === 1 && quantities[0] && !named.otherFigure) filledSlots.quantity = quantities[0]
  filledSlots.quantityDoubt = (quantities.length > 0 && !filledSlots.quantity) || named.otherFigure
}

/** The one of several quantities that is measured on such a part, "" when that is not plain: a gap of a ring. */
function ofPart(codes: string[], parts: string[]): string {
  if (codes.length === 1) return codes[0]!
  const fitting = codes.filter((code) => {
    const known = QUANTITIES.find((candidate) => candidate.code === code)
    return known !== undefined && parts.some((part) => known.parts.includes(part))
  })
  return fitting.length === 1 ? fitting[0]! : ''
}

function setFindings(filledSlots: Slots, named: Walk): void {
  filledSlots.conditions = [...named.conditions]
  filledSlots.conditionDoubt = named.conditionDoubt
  if (!filledSlots.value && !filledSlots.maybe.length) {
    filledSlots.conditions = unique([...filledSlots.conditions, ...named.bending.map(([word]) => word)])
  }
  filledSlots.disposition = named.dispositions.length === 1 ? named.dispositions[0]! : ''
  filledSlots.dispositionDoubt = named.dispositions.length > 1
}
