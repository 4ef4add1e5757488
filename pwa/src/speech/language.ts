// What can be said on a screen and what it means: the trade's own grammar and reading, as the worker asks for them.
import { read } from '../trade/spoken/parse.ts'
import { dictionary, grammar, wordsOf } from '../trade/spoken/grammar.ts'
import type { Proposal } from '../trade/spoken/types.ts'
import type { Language } from './recognise.ts'
import type { Subject } from './shapes.ts'

export const language: Language = {
  grammar({ screen, engine_type, own }) {
    const jsgf = grammar(screen, engine_type, own)
    return { jsgf, dictionary: dictionary(wordsOf(jsgf), own) }
  },
  read: (text, { screen, engine_type, own }) => read(text, screen, engine_type, own),
  senseless,
}

/** True where nothing in it could become a record, and nothing of a record is cancelled. */
function senseless(proposal: Proposal, { screen }: Subject): boolean {
  const { asks, value, unit, disposition, conditions, maybe } = proposal
  if (asks.includes('again')) return true
  const stated = [value, unit, disposition, ...conditions, ...maybe].some(Boolean)
  return !(stated || proposal.place_spoken || proposal.quantity_spoken || proposal.withdrawn || proposal.point !== screen.point)
}
