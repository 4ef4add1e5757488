// Which reading comes next, and which figure is shown first: the measuring screen's own sums, without a screen.
import { Refusal } from '../../trade/ground/errors.ts'
import type { Judged, Sheet, SheetFigure, SheetPlace, Taken } from '../../trade/sheets/types.ts'
import { QUANTITIES, readQuantity } from '../../trade/ground/units.ts'
import { say } from '../frame/say.ts'

/** One cell of the grid: a place and the code of a reading there. */
export interface Cell {
  place: string
  reading: string
}

export type Walk = 'place' | 'reading'

export const same = (a: Cell | null, b: Cell | null) => a !== null && b !== null && a.place === b.place && a.reading === b.reading

/** Every cell that has to be read, in the order of the walk: all readings of a place, or one reading over all places. */
export function orderOf(sheet: Sheet, walk: Walk): Cell[] {
  const needed = sheet.readings_asked.filter((r) => !r.optional).map((r) => r.code)
  const places = sheet.places.map((p) => p.place)
  return walk === 'place'
    ? places.flatMap((place) => needed.map((reading) => ({ place, reading })))
    : needed.flatMap((reading) => places.map((place) => ({ place, reading })))
}

/** True for a value that was read here, or that another sheet has to lend. */
export const isTaken = (taken: Taken | undefined): taken is Taken => taken !== undefined && taken.mean !== ''

/** The cells that hold a value. */
export function takenIn(sheet: Sheet): (cell: Cell) => boolean {
  const taken = new Set(sheet.places.flatMap((p) => Object.entries(p.readings).filter(([, r]) => isTaken(r)).map(([code]) => `${p.place} ${code}`)))
  return ({ place, reading }) => taken.has(`${place} ${reading}`)
}

/** The first cell of the order that is still missing, from the one after `after` round to it again; null when all are read. */
export function nextMissing(order: Cell[], taken: (cell: Cell) => boolean, after: Cell | null): Cell | null {
  const from = after ? order.findIndex((cell) => same(cell, after)) + 1 : 0
  const round = [...order.slice(from), ...order.slice(0, from)]
  return round.find((cell) => !taken(cell)) ?? null
}

/** The first missing cell of one place, in the order in which readings are asked. */
export function missingAt(order: Cell[], taken: (cell: Cell) => boolean, place: string): Cell | null {
  return order.find((cell) => cell.place === place && !taken(cell)) ?? null
}

/** The reading saved last in this sheet; null before the first. */
export function lastSaved(sheet: Sheet): Cell | null {
  let last: Cell | null = null
  let when = ''
  for (const p of sheet.places)
    for (const [reading, r] of Object.entries(p.readings))
      for (const v of r.borrowed ? [] : r.values)
        if (v.claimed >= when) {
          when = v.claimed
          last = { place: p.place, reading }
        }
  return last
}

export interface Tallied {
  taken: number
  needed: number
  done: boolean
}

/** How far a place is: readings taken of those that have to be taken. */
export function tallied(sheet: Sheet, place: SheetPlace): Tallied {
  const needed = sheet.readings_asked.filter((r) => !r.optional)
  const taken = needed.filter((r) => isTaken(place.readings[r.code])).length
  return { taken, needed: needed.length, done: place.done }
}

/** How a figure stands that has no limit, as the measurement sheet words it. */
export const NO_LIMIT = 'no limit'

const WEIGHT: Record<string, number> = { outside: 3, 'not proven': 2, within: 1, [NO_LIMIT]: 0 }

/** The weightiest of a figure's verdicts: outside before not proven before within; null where no limit is set. */
export function worst(figure: SheetFigure): Judged | null {
  return figure.now.reduce<Judged | null>((first, next) => (first && WEIGHT[first.standing]! >= WEIGHT[next.standing]! ? first : next), null)
}

export interface Headline {
  figure: SheetFigure
  verdict: Judged | null
}

const stops = (figure: SheetFigure) => figure.guide.startsWith('STOP')
// A stop comes before every verdict: it holds whether a limit was set or not.
const weight = ({ figure, verdict }: Headline) => (stops(figure) ? 10 : 0) + WEIGHT[verdict?.standing ?? NO_LIMIT]!

/**
 * The figure of a place to be shown first: a stop, the worst verdict, and once the place is done the first that has a value. null
 * before that: what another sheet lends is no news here.
 */
export function headline(place: SheetPlace | undefined): Headline | null {
  let best: Headline | null = null
  for (const figure of place?.figures ?? []) {
    if (figure.value === null) continue
    const verdict = worst(figure)
    if (!verdict && !place?.done && !stops(figure)) continue
    if (!best || weight({ figure, verdict }) > weight(best)) best = { figure, verdict }
  }
  return best
}

/** The place that was last read among those with a figure to show: its figure stays in sight until another has one. */
export function lastJudged(sheet: Sheet): SheetPlace | undefined {
  const newest = (place: SheetPlace) => Object.values(place.readings).flatMap((r) => r.values.map((v) => v.claimed)).sort().at(-1) ?? ''
  return sheet.places.filter((place) => headline(place)).sort((a, b) => (newest(a) < newest(b) ? 1 : -1))[0]
}

/** How the whole place stands, for its mark in the row of places. */
export function standingOf(place: SheetPlace): string {
  return headline(place)?.verdict?.standing ?? NO_LIMIT
}

export interface Typed {
  value: string
  unit: string
}

/**
 * What is recorded of a typed value: its figure as it was typed, and its unit, which a unit typed with it overrides.
 * Throws Refusal for what cannot be read, and for a unit of another kind.
 */
export function typed(quantity: string, text: string, chosen: string): Typed {
  const bare = text.trim()
  const written = /\s*([^0-9\s.,+\-/\u2212][^0-9]*)$/u.exec(bare)
  const value = written ? bare.slice(0, written.index).trim() : bare
  if (!/\d/.test(value)) throw new Refusal('bad_value', 'value', say('grid.nothing_typed'))
  const { unit } = readQuantity(quantity, bare, written ? '' : chosen)
  return { value, unit }
}

/** The unit that most readings of a quantity in this sheet have; '' before there are any. */
export function unitIn(sheet: Sheet, quantity: string): string {
  const codes = new Set(sheet.readings_asked.filter((r) => r.quantity === quantity).map((r) => r.code))
  const counts = new Map<string, number>()
  for (const place of sheet.places)
    for (const [code, taken] of Object.entries(place.readings))
      for (const { unit } of codes.has(code) ? taken.values : []) counts.set(unit, (counts.get(unit) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? ''
}

export const kindOf = (quantity: string): string => QUANTITIES.find((q) => q.code === quantity)?.kind ?? ''
