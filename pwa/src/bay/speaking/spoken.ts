// What is done with words that were heard: whether they say anything, where a figure belongs, what is still to be chosen.
import type { Proposal } from '../../trade/spoken/types.ts'
import type { Asked, Sheet } from '../../trade/sheets/types.ts'
import { type Cell, isTaken } from '../measuring/grid.ts'

/** The parts of a proposal that a person may put right. */
export type Part = 'place' | 'quantity' | 'value' | 'unit'

export const NOT_UNDERSTOOD = 'Not understood. Say it again.'

/** Why a proposal for a figure is none, in a sentence; '' where there is something to show. */
export function whyNoFigure(text: string, proposal: Proposal | null): string {
  if (!text || !proposal || proposal.asks.includes('again')) return NOT_UNDERSTOOD
  if (proposal.withdrawn) return 'Taken back as you said. Nothing is recorded of it.'
  if (proposal.value === '' && proposal.maybe.length === 0) return 'No figure was understood. Say it again.'
  return ''
}

/** The same for a finding: it needs a condition or what is to be done. */
export function whyNoFinding(text: string, proposal: Proposal | null): string {
  if (!text || !proposal || proposal.asks.includes('again')) return NOT_UNDERSTOOD
  if (proposal.withdrawn) return 'Taken back as you said. Nothing is written of it.'
  if (proposal.conditions.length === 0 && proposal.disposition === '') return 'No condition was understood. Say it again, or write it.'
  return ''
}

/** The figures to choose from: a range that was said, or digits that can be read in several ways. Empty once one is chosen. */
export function choicesOf(proposal: Proposal): string[] {
  if (proposal.value_to !== '') return [proposal.value, proposal.value_to]
  return proposal.value === '' ? proposal.maybe : []
}

/** A figure that is chosen, spoken or typed, in the stead of what stood there. */
export const withValue = (proposal: Proposal, value: string): Proposal => ({ ...proposal, value, value_to: '', maybe: proposal.maybe.filter((one) => one !== value) })

/** Words of a point as they are compared: 'top, thrust' as it is written and 'top thrust' as it is said. */
const bare = (words: string) => words.toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim()

export const TWO_POINTS = 'More than one point was named. Touch the place to choose one.'

export interface Belongs {
  cell: Cell | null
  /** Why it belongs nowhere on this sheet, in a sentence. */
  why: string
}

/**
 * The cell of a sheet that a spoken figure belongs to: the place and the point as said, else as lit. A quantity that was
 * said has to be that of the reading. `missing` tells the first reading that is still asked for at a place.
 */
export function cellFor(sheet: Sheet, proposal: Proposal, lit: Cell | null, missing: (place: string) => Cell | null): Belongs {
  if (proposal.asks.includes('point')) return { cell: null, why: TWO_POINTS }
  const place = proposal.place_spoken ? proposal.place : (lit?.place ?? proposal.place)
  const at = sheet.places.find((one) => one.place === place)
  if (!at) return { cell: null, why: 'This sheet has no such place. Touch the place to choose one.' }
  const fits = (one: Asked) => !proposal.quantity_spoken || one.quantity === proposal.quantity
  const said = bare(proposal.point)
  const named = said ? sheet.readings_asked.filter((one) => bare(one.words) === said) : []
  const reading = named.find(fits) ?? litReading(sheet, lit, place, fits) ?? sheet.readings_asked.find((one) => one.code === missing(place)?.reading && fits(one))
  if (reading) return { cell: { place, reading: reading.code }, why: '' }
  const possible = sheet.readings_asked.filter(fits)
  if (possible.length === 0) return { cell: null, why: 'This sheet does not read that. Touch the place to choose a reading, or say it again under One reading.' }
  const open = possible.find((one) => !isTaken(at.readings[one.code]))
  return open ? { cell: { place, reading: open.code }, why: '' } : { cell: null, why: 'All is read here. Choose which reading it is.' }
}

function litReading(sheet: Sheet, lit: Cell | null, place: string, fits: (one: Asked) => boolean): Asked | undefined {
  return lit?.place === place ? sheet.readings_asked.find((one) => one.code === lit.reading && fits(one)) : undefined
}

export interface Known {
  place: string
  quantity: string
  /** The units in which it is read here; none means any. */
  units: string[]
}

/** What is still to be said or chosen before a figure can be kept, in the order in which it is asked for. */
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
