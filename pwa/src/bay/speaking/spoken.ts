// What becomes of words that were heard: whether they mean anything here, where a figure belongs, what is still to be chosen.
import type { Proposal } from '../../trade/spoken/types.ts'
import type { Asked, Sheet } from '../../trade/sheets/types.ts'
import { type Cell, isTaken } from '../measuring/grid.ts'
import { say } from '../frame/say.ts'

/** The parts of a proposal that a person may put right. */
export type Part = 'place' | 'quantity' | 'value' | 'unit'

export const notUnderstood = () => say('speaking.not_understood')

/** Why a proposal for a figure is none, in a sentence; '' where there is something to show. */
export function whyNoFigure(text: string, proposal: Proposal | null): string {
  if (!text || !proposal || proposal.asks.includes('again')) return notUnderstood()
  if (proposal.withdrawn) return say('speaking.cancelled')
  if (proposal.value === '' && proposal.maybe.length === 0) return say('speaking.no_figure')
  return ''
}

/** The same for a finding: it needs a condition or what is to be done. */
export function whyNoFinding(text: string, proposal: Proposal | null): string {
  if (!text || !proposal || proposal.asks.includes('again')) return notUnderstood()
  if (proposal.withdrawn) return say('speaking.cancelled')
  if (proposal.conditions.length === 0 && proposal.disposition === '') return say('speaking.no_condition')
  return ''
}

/** The figures to choose from: a range that was spoken, or digits that can be read in several ways. Empty once a figure is chosen. */
export function choicesOf(proposal: Proposal): string[] {
  if (proposal.value_to !== '') return [proposal.value, proposal.value_to]
  return proposal.value === '' ? proposal.maybe : []
}

/** A figure that is chosen, spoken or typed, in place of the one there. */
export const withValue = (proposal: Proposal, value: string): Proposal => ({ ...proposal, value, value_to: '', maybe: proposal.maybe.filter((other) => other !== value) })

/** Words of a point as they are compared: 'top, thrust' as it is written and 'top thrust' as it is spoken. */
const bare = (words: string) => words.toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim()

export const twoPoints = () => say('speaking.two_points')

export interface Belongs {
  cell: Cell | null
  /** Why it belongs nowhere on this measurement sheet, in a sentence. */
  why: string
}

/**
 * The cell of a sheet that a spoken figure belongs to: the place and the point as spoken, else as lit. A quantity that was
 * spoken has to be that of the reading. `missing` gives the first reading that is still wanted at a place.
 */
export function cellFor(sheet: Sheet, proposal: Proposal, lit: Cell | null, missing: (place: string) => Cell | null): Belongs {
  if (proposal.asks.includes('point')) return { cell: null, why: twoPoints() }
  const place = proposal.place_spoken ? proposal.place : (lit?.place ?? proposal.place)
  const at = sheet.places.find((row) => row.place === place)
  if (!at) return { cell: null, why: say('speaking.no_such_place') }
  const fits = (reading: Asked) => !proposal.quantity_spoken || reading.quantity === proposal.quantity
  const point = bare(proposal.point)
  const named = point ? sheet.readings_asked.filter((reading) => bare(reading.words) === point) : []
  const reading = named.find(fits) ?? litReading(sheet, lit, place, fits) ?? sheet.readings_asked.find((next) => next.code === missing(place)?.reading && fits(next))
  if (reading) return { cell: { place, reading: reading.code }, why: '' }
  const possible = sheet.readings_asked.filter(fits)
  if (possible.length === 0) return { cell: null, why: say('speaking.no_such_reading') }
  const open = possible.find(({ code }) => !isTaken(at.readings[code]))
  return open ? { cell: { place, reading: open.code }, why: '' } : { cell: null, why: say('speaking.all_taken') }
}

function litReading(sheet: Sheet, lit: Cell | null, place: string, fits: (reading: Asked) => boolean): Asked | undefined {
  return lit?.place === place ? sheet.readings_asked.find((reading) => reading.code === lit.reading && fits(reading)) : undefined
}

export interface Known {
  place: string
  quantity: string
  /** The units in which it is read here; none means any. */
  units: string[]
}

/** What is still to be spoken or chosen before a figure can be saved, in the order in which it is asked for. */
export function wanting(proposal: Proposal, known: Known): Part[] {
  const wants: Part[] = []
  if (!known.place) wants.push('place')
  if (!known.quantity) wants.push('quantity')
  if (proposal.value === '' || choicesOf(proposal).length > 0) wants.push('value')
  if (!unitFits(proposal.unit, known.units)) wants.push('unit')
  return wants
}

/** True for a unit in which it is read here; a count has none. */
export const unitFits = (unit: string, units: string[]): boolean => (units.length ? units.includes(unit) : unit !== '')
