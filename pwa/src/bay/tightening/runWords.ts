// How stages, targets and bolts are worded in the bay, and which joint a place belongs to.
import { withUnit } from '../../trade/ground/units.ts'
import type { EngineType, Joint } from '../../trade/engine/parts.ts'
import type { RunState, StageState } from '../../trade/tightening/run.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'
import type { TighteningStage } from '../../trade/tightening/stages.ts'
import { STATE } from '../../trade/tightening/values.ts'
import { say } from '../frame/say.ts'
import { people } from '../../store/identity.ts'

const BOLTS = {
  reusable: { new: 'bolts.new', used: 'bolts.used', unknown: 'bolts.unknown' },
  stretch: { new: 'bolts.stretch_new', used: 'bolts.stretch_used', unknown: 'bolts.stretch_unknown' },
} as const

/** "60 N·m", "90°", "release". */
export function targetWords({ target, unit }: Pick<TighteningStage, 'target' | 'unit'>): string {
  if (target === '') return say('run.release')
  return withUnit(target, unit)
}

/** "±3", "−2 +4", '' where the stage has no target. */
export function toleranceWords({ target, minus, plus }: Pick<TighteningStage, 'target' | 'minus' | 'plus'>): string {
  if (target === '') return ''
  return minus === plus ? `±${minus}` : `−${minus} +${plus}`
}

/** What a fastener is after a touch: "tightened". */
export function doneWords(method: string): string {
  if (method === 'release') return say('run.released')
  return method === 'angle' ? say('run.turned') : say('run.tightened')
}

/** What a fastener that is done once more was: "It was tightened again". */
export function doneAgainWords(method: string): string {
  if (method === 'release') return say('run.released_again')
  return method === 'angle' ? say('run.turned_again') : say('run.tightened_again')
}

/** "oiled threads, used bolts"; `state` where the threads are in another one than the sheet asks for. */
export function boltsWords(sheet: Pick<TighteningSheet, 'state' | 'bolt'>, bolts: string, state = sheet.state): string {
  const thread = STATE[state] ? threadsWords(STATE[state], state === sheet.state ? '' : (STATE[sheet.state] ?? '')) : ''
  const kinds = sheet.bolt === 'stretch' ? BOLTS.stretch : BOLTS.reusable
  return [thread, bolts in kinds && say(kinds[bolts as keyof typeof kinds])].filter(Boolean).join(', ')
}

function threadsWords(state: string, specified: string): string {
  return specified ? say('bolts.threads_not_as_specified', { state, specified }) : say('bolts.threads', { state })
}

/** "M10 × 1.5, 10.9, oiled threads. From: maker's manual" */
export function sourceWords(sheet: TighteningSheet, bolts: string, state = sheet.state): string {
  const facts = [threadWords(sheet), boltsWords(sheet, bolts, state)].filter(Boolean).join(', ')
  const source = say('bolts.source', { source: sheet.source })
  return [facts && `${facts}.`, source].filter(Boolean).join(' ')
}

/** "M10 × 1.5, 10.9" */
export function threadWords({ thread }: Pick<TighteningSheet, 'thread'>): string {
  const size = thread.size && `${thread.size}${thread.pitch && ` × ${thread.pitch}`}`
  return [size, thread.class].filter(Boolean).join(', ')
}

/** What can hurt a bolt, where it is about to be turned. */
export function boltCautions(sheet: TighteningSheet): string[] {
  if (sheet.bolt !== 'stretch') return []
  const cautions = [
    say('bolts.stretch'),
    sheet.uses_most ? say('bolts.most', { count: sheet.uses_most }) : '',
    sheet.length_most ? say('bolts.length', { length: sheet.length_most }) : '',
    sheet.stages.some((stage) => stage.method === 'angle') ? say('bolts.angle') : '',
  ]
  return [cautions.filter(Boolean).join(' ')]
}

/** "stage 2 of 3, number 5 next", "all done, 2 things missing", "closed". */
export function standsWords(state: RunState): string {
  if (state.closed) return say('run.closed')
  if (state.stage !== null) return say('run.stands_at', { stage: state.stage + 1, stages: state.stages.length, number: state.next ?? '' })
  return state.may_close ? say('run.all_done') : say('run.all_done_missing', { count: state.missing.length })
}

/** How many fasteners of all stages are done, and how many there are. */
export function progress(stages: readonly StageState[]): { done: number; of: number } {
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
export const nameOf = (id: string): string => people.value.find((person) => person.id === id)?.name ?? say('people.unknown')
