// What can be measured at a part, the likely ones first, with the units each is read in.
import { QUANTITIES, type Quantity as Listed } from '../../trade/ground/units.ts'

export interface Quantity {
  /** As it stands in the record. */
  code: string
  words: string
  /** Without what stands in brackets: for a small button. */
  short: string
}

// What any part may be asked for when the list has little of its own for it.
const USUAL = ['diameter', 'clearance', 'depth', 'run_out', 'count']

const shown = ({ code, words }: Listed): Quantity => ({ code, words, short: words.replace(/ \(.*\)$/, '') })

export function quantitiesFor(part: string): Quantity[] {
  const own = QUANTITIES.filter((q) => q.parts.includes(part))
  const rest = QUANTITIES.filter((q) => !own.includes(q) && USUAL.includes(q.code))
  return [...own, ...(own.length < 4 ? rest : [])].slice(0, 6).map(shown)
}

export function unitsFor(quantity: string): string[] {
  return QUANTITIES.find((q) => q.code === quantity)?.units ?? ['mm', 'in', '']
}

export const quantityWords = (code: string): string => QUANTITIES.find((q) => q.code === code)?.words ?? code
