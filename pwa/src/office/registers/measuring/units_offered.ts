import { UNITS } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'
import type { Option } from '../form/schema.ts'

/** The units of a kind of quantity, to choose from. */
export function unitsOf(kind: string): Option[] {
  return Object.entries(UNITS)
    .filter(([, unit]) => unit.kind === kind)
    .map(([value, { words }]) => ({ value, words: value ? `${value}, ${words}` : say('registers.plain_number') }))
}
