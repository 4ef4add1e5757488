// What is done with words that were heard: whether they say anything, where a figure belongs, what is still to be chosen.
import type { Proposal } from '../../trade/spoken/types.ts'
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

export const TWO_POINTS = 'More than one point was named. Touch the place to choose one.'

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
