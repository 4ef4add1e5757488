// How stages, targets and bolts are said in the bay, and which joint a place belongs to.
import { withUnit } from '../../trade/ground/units.ts'
import type { EngineType, Joint } from '../../trade/engine/parts.ts'
import type { RunState, StageTold } from '../../trade/tightening/run.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'
import type { TighteningStage } from '../../trade/tightening/stages.ts'
import { STATE } from '../../trade/tightening/values.ts'
import { count } from '../frame/words.ts'
import { people } from '../../store/identity.ts'

const BOLTS: Record<string, string> = { new: 'new bolts', used: 'used bolts', unknown: 'bolts of unknown use' }

/** "60 N·m", "90°", "let go". */
export function targetWords({ target, unit }: Pick<TighteningStage, 'target' | 'unit'>): string {
  if (target === '') return 'let go'
  return withUnit(target, unit)
}

/** "±3", "−2 +4", '' where nothing is said. */
export function toleranceWords({ target, minus, plus }: Pick<TighteningStage, 'target' | 'minus' | 'plus'>): string {
  if (target === '') return ''
  return minus === plus ? `±${minus}` : `−${minus} +${plus}`
}

/** What a fastener is after a tap. */
export const DONE: Record<string, string> = { torque: 'tightened', angle: 'turned', release: 'let go' }

/** "oiled threads, used bolts"; `state` where the threads are in another one than the sheet asks for. */
export function boltsWords(sheet: Pick<TighteningSheet, 'state' | 'bolt'>, bolts: string, state = sheet.state): string {
  const asked = state !== sheet.state && STATE[sheet.state] ? ` (asked: ${STATE[sheet.state]})` : ''
  const thread = STATE[state] ? `${STATE[state]} threads${asked}` : ''
  const said = sheet.bolt === 'stretch' ? (BOLTS[bolts] ?? '').replace('bolts', 'stretch bolts') : BOLTS[bolts]
  return [thread, said].filter(Boolean).join(', ')
}

/** "M10 × 1.5, 10.9" */
export function threadWords({ thread }: Pick<TighteningSheet, 'thread'>): string {
  const size = thread.size && `${thread.size}${thread.pitch && ` × ${thread.pitch}`}`
  return [size, thread.class].filter(Boolean).join(', ')
}

/** What can hurt a bolt, where it is about to be turned. */
export function boltCautions(sheet: TighteningSheet): string[] {
  if (sheet.bolt !== 'stretch') return []
  const most = sheet.uses_most ? `They may be tightened ${sheet.uses_most === 1 ? 'once' : `${sheet.uses_most} times`} in all` : ''
  const length = sheet.length_most ? `measure each: none longer than ${sheet.length_most} mm` : ''
  const limits = [most, length].filter(Boolean).join('; ')
  const angle = sheet.stages.some((stage) => stage.method === 'angle') ? ' What was turned by angle is not checked by torque afterwards.' : ''
  return [`Stretch bolts. ${limits ? `${limits.charAt(0).toUpperCase()}${limits.slice(1)}.` : ''}${angle}`.trim()]
}

/** "stage 2 of 3, number 5 next", "all done, 2 things missing", "closed". */
export function standsWords(state: RunState): string {
  if (state.closed) return 'closed'
  if (state.stage !== null) return `stage ${state.stage + 1} of ${state.stages.length}, number ${state.next} next`
  return state.may_close ? 'all done, not closed yet' : `all done, ${count(state.missing.length, 'thing')} missing`
}

/** How many fasteners of all stages are done, and how many are asked for. */
export function progress(stages: readonly StageTold[]): { done: number; of: number } {
  const of = stages.reduce((sum, stage) => sum + stage.order.length, 0)
  return { done: of - stages.reduce((sum, stage) => sum + stage.missing.length, 0), of }
}

// Which joint is meant where somebody stands at what it holds.
const HOLDS: Record<string, string> = {
  head: 'head_bolt', main: 'main_bolt', main_cap: 'main_bolt', main_bearing: 'main_bolt', rod: 'rod_bolt', rod_cap: 'rod_bolt',
  rod_bearing: 'rod_bolt', flywheel: 'flywheel_bolt', sump: 'sump_bolt',
}

/** The joint at a place: that of a fastener, or the one that holds the part in hand; null for another place. */
export function jointAt(type: EngineType, place: string): Joint | null {
  const own = type.joints.find((joint) => place.startsWith(`${joint.code}/`))
  if (own) return own
  const [part = '', ...rest] = place.split('/')
  const code = HOLDS[part] && [HOLDS[part], ...rest].join('/')
  return type.joints.find((joint) => joint.code === code || joint.code === HOLDS[part]) ?? null
}

// In these joints x runs across the engine; in all others along it, from the front.
const ACROSS = ['main_bolt', 'rod_bolt', 'flywheel_bolt']
const ROUND = ['flywheel_bolt', 'rod_bolt']

/** Which end of the drawing is the front of the engine. */
export function frontOf(joint: string): 'left' | 'above' | undefined {
  const part = joint.split('/')[0] ?? ''
  if (ROUND.includes(part)) return undefined
  return ACROSS.includes(part) ? 'above' : 'left'
}

/** A person as the screens of a run name them. */
export const nameOf = (id: string): string => people.value.find((one) => one.id === id)?.name ?? 'somebody not known here'
