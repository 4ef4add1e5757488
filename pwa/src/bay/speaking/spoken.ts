// What becomes of words that were heard: whether they mean anything here, where a figure belongs, what is still to be chosen.
import type { Proposal } from '../../trade/spoken/types.ts'
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

export const twoPoints = () => say('speaking.two_points')

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
