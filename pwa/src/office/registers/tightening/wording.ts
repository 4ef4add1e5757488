// Stages, targets and bolts in words.

import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { METHODS, type Method, type TighteningStage } from '../../../trade/tightening/stages.ts'
import { say, type SentenceKey } from '../../frame/say.ts'
import type { Option } from '../form/schema.ts'

/** "60 N·m ±3", "60 N·m −2 +4", "90°", "released". */
export function targetWords({ target, unit, minus, plus, method }: TighteningStage): string {
  if (target === '') return method === 'release' ? say('tightening.released_any') : say('tightening.no_target')
  const value = unit === '°' ? `${target}°` : `${target} ${unit}`
  if (!minus && !plus) return value
  const sign = unit === '°' ? '°' : ''
  if (minus === plus) return Number(minus) ? `${value} ±${minus}${sign}` : value
  return `${value} −${minus}${sign} +${plus}${sign}`
}

const METHOD_NAMES: Partial<Record<Method, SentenceKey>> = {
  torque: 'tightening.method_torque',
  angle: 'tightening.method_angle',
  release: 'tightening.method_release',
}

export function methodWords({ method }: Pick<TighteningStage, 'method'>): string {
  const name = METHOD_NAMES[method]
  return name ? say(name) : METHODS[method]
}

/** The methods a stage can be carried out by. */
export const methodOptions = (): Option[] => (Object.keys(METHOD_NAMES) as Method[]).map((value) => ({ value, words: methodWords({ method: value }) }))

/** "M10 × 1.5, 10.9, oiled" */
export function threadWords({ thread, state }: TighteningSheet): string {
  const size = thread.size && `${thread.size}${thread.pitch && ` × ${thread.pitch}`}`
  return [size, thread.class, stateWords(state)].filter(Boolean).join(', ')
}

const STATE_NAMES: Record<string, SentenceKey> = {
  dry: 'tightening.state_dry',
  oiled: 'tightening.state_oiled',
  sealant: 'tightening.state_sealant',
  locking: 'tightening.state_locking',
  new: 'tightening.state_new',
  used: 'tightening.state_used',
}

/** The state of a thread in words; "" where it is not given. */
export function stateWords(state: string): string {
  const name = STATE_NAMES[state]
  return name ? say(name) : ''
}

/** How often the bolts may be tightened and up to which length, in a sentence. */
export function boltWords({ bolt, uses_most, length_most }: TighteningSheet): string {
  const uses = uses_most === 1 ? say('tightening.use_once') : uses_most ? say('tightening.uses_most', { count: uses_most }) : ''
  const limits = [uses, length_most && say('tightening.length_most', { length: length_most })].filter(Boolean).join(', ')
  if (bolt === 'stretch') return limits ? say('tightening.stretch_bolts_limits', { limits }) : say('tightening.stretch_bolts')
  return limits ? say('tightening.bolts_limits', { limits }) : say('tightening.bolts_reused')
}
