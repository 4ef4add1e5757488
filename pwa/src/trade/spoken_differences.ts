// Where what a recogniser heard and what somebody recorded from the same sound are not the same. The twin of
// trade/spoken_differences.py.

import { Refusal } from './errors.ts'
import type { Lined } from './lines.ts'
import type { Proposal } from './spoken_types.ts'
import { convert, read, type Fraction, type Reading } from './units.ts'
import { words } from './vocabulary.ts'

export type Part = 'place' | 'point' | 'quantity' | 'value' | 'unit' | 'condition' | 'disposition'

type Record = Pick<Lined, 'kind' | 'body' | 'location'>

/**
 * The parts that differ; [] when what was heard is what was recorded. Null when nothing was heard that such a record could
 * be made of. Only what was heard is compared: a unit that nobody spoke and somebody chose is no difference.
 */
export function differing(proposal: Proposal, record: Record): Part[] | null {
  // What was taken back, or sounds like talk, is nothing that a record could be held against.
  if (proposal.withdrawn || proposal.asks.includes('again')) return null
  const found = record.kind === 'finding_made' ? ofFinding(proposal, record) : ofFigure(proposal, record)
  return found && [...ofPlace(proposal, record), ...found]
}

function ofPlace(proposal: Proposal, { location, body }: Record): Part[] {
  const { place, point } = location ?? { place: '', point: '' }
  const here = [place, `${place}/${body['fastener'] ?? ''}`]
  const said = new Set(words(proposal.point))
  const kept = new Set(words(point))
  const same = said.size === kept.size && [...said].every((word) => kept.has(word))
  const parts: Part[] = []
  // A place that was spoken of and is none of this engine's was not understood: it contradicts nothing.
  if (proposal.place_spoken && !['', ...here].includes(proposal.place)) parts.push('place')
  if (said.size > 0 && kept.size > 0 && !same) parts.push('point')
  return parts
}

function ofFigure(proposal: Proposal, { kind, body }: Record): Part[] | null {
  if (!proposal.value) return null
  const spoken = kind === 'measured' && proposal.quantity_spoken ? proposal.quantity : ''
  const other = !['', body['quantity']].includes(spoken)
  return [...(other ? (['quantity'] as const) : []), ...ofValue(proposal, body)]
}

function ofValue(proposal: Proposal, body: Record['body']): Part[] {
  let said: Reading, kept: Reading
  try {
    said = read(proposal.value, proposal.unit)
    kept = read(String(body['value']), String(body['unit']))
  } catch (reason) {
    if (reason instanceof Refusal) return ['value'] // an older record may hold a value that is no number
    throw reason
  }
  // Two ends were heard, and a record holds one.
  if (proposal.value_to) return ['value']
  const same = equal(said.amount, kept.amount)
  if (!said.unit || said.unit === kept.unit) return same ? [] : ['value']
  const there = kept.unit ? inUnit(said, kept.unit) : null
  if (there && equal(there, kept.amount)) return []
  return same ? ['unit'] : ['value', 'unit']
}

const equal = (a: Fraction, b: Fraction) => a.over * b.under === b.over * a.under

/** Null between kinds: a length and a torque have nothing in common. */
function inUnit(said: Reading, unit: string): Fraction | null {
  try {
    return convert(said.amount, said.unit, unit)
  } catch (reason) {
    if (reason instanceof Refusal) return null
    throw reason
  }
}

function ofFinding(proposal: Proposal, { body }: Record): Part[] | null {
  if (proposal.conditions.length === 0 && !proposal.disposition) return null
  const plain = (text: unknown) => words(String(text)).join(' ')
  const kept = (body['condition'] as string[]).map(plain)
  const written = ` ${plain(body['observation'])} `
  const parts: Part[] = []
  if (proposal.conditions.map(plain).some((one) => !kept.includes(one) && !written.includes(` ${one} `))) parts.push('condition')
  if (proposal.disposition && proposal.disposition !== (body['disposition'] ?? '')) parts.push('disposition')
  return parts
}
