import { UNITS } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'
import type { Option } from '../form/schema.ts'

const USUAL: Record<string, string> = { length: 'mm', pressure: 'bar', volume: 'cm³', share: '%', number: '', angle: '°' }

/** The units of a kind of quantity, to choose from. */
export function unitsOf(kind: string): Option[] {
  return Object.entries(UNITS)
    .filter(([, unit]) => unit.kind === kind)
    .map(([value, { words }]) => ({ value, words: value ? `${value}, ${words}` : say('registers.plain_number') }))
}

export function usualUnit(kind: string): string {
  return USUAL[kind] ?? unitsOf(kind)[0]?.value ?? ''
}
