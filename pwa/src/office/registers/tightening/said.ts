// How stages, targets and bolts are said in the office.

import { UNITS, withUnit } from '../../../trade/ground/units.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { METHODS, type TighteningStage } from '../../../trade/tightening/stages.ts'

/** "60 N·m ±3", "60 N·m −2 +4", "90°", "let go". */
export function targetWords({ target, unit, minus, plus, method }: TighteningStage): string {
  if (target === '') return method === 'release' ? 'let go, any value' : 'no target yet'
  const value = withUnit(target, unit)
  if (!minus && !plus) return value
  const sign = UNITS[unit]?.close ? unit : ''
  if (minus === plus) return Number(minus) ? `${value} ±${minus}${sign}` : value
  return `${value} −${minus}${sign} +${plus}${sign}`
}

export const methodWords = ({ method }: TighteningStage): string => ({ torque: 'to a torque', angle: 'by an angle', release: 'let go' })[method] ?? METHODS[method]

/** "M10 × 1.5, 10.9, oiled" */
export function threadWords({ thread, state }: TighteningSheet): string {
  const size = thread.size && `${thread.size}${thread.pitch && ` × ${thread.pitch}`}`
  return [size, thread.class, STATE_WORDS[state]].filter(Boolean).join(', ')
}

export const STATE_WORDS: Record<string, string> = {
  '': '',
  dry: 'dry',
  oiled: 'oiled',
  sealant: 'with sealant',
  locking: 'with locking compound',
  new: 'new',
  used: 'used before',
}

/** How often the bolts may be tightened, in a sentence. */
export function boltWords({ bolt, uses_most, length_most }: TighteningSheet): string {
  const length = length_most && `up to ${length_most} mm long`
  const uses = uses_most === 1 ? 'tightened once and then replaced' : uses_most ? `tightened ${uses_most} times at most` : ''
  const said = [uses, length].filter(Boolean).join(', ')
  if (bolt === 'stretch') return `Stretch bolts${said && `, ${said}`}.`
  return said ? `Bolts ${said}.` : 'Bolts are used again.'
}
