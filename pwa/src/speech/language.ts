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

/** True where nothing in it could become a record, and nothing of one is taken back. */
function senseless(one: Proposal, { screen }: Subject): boolean {
  if (one.asks.includes('again')) return true
  const said = [one.value, one.unit, one.disposition, ...one.conditions, ...one.maybe].some(Boolean)
  return !(said || one.place_spoken || one.quantity_spoken || one.withdrawn || one.point !== screen.point)
}
