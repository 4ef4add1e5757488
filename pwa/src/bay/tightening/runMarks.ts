// What is marked at each fastener of the drawing, for the eye and for the ear.
import type { JointMark } from '../../parts/joint/JointDrawing.tsx'
import { ordinal } from '../../parts/joint/joint_layout.ts'
import type { RunState, StageState } from '../../trade/tightening/run.ts'
import { doneWords } from './runWords.ts'
import { say } from '../frame/say.ts'

/** The marks of a stage: what is next, done, skipped, and where something deviates from the sheet. */
export function marksOf(state: RunState, stage: StageState): Record<string, JointMark> {
  const current = state.stage !== null && state.stages[state.stage] === stage
  const marks = stage.order.map((label): [string, JointMark] => {
    const row = stage.done.find((done) => done.label === label)
    const planned = stage.order.indexOf(label) + 1
    const inOrder = say('marks.in_order', { position: ordinal(planned) })
    const ring = ringOf(state, stage, label)
    const answer = ring === 'open' ? say('marks.to_answer') : ring === 'answered' ? say('marks.answered') : ''
    const words = (...parts: string[]) => [...parts, answer].filter(Boolean).join(', ')
    if (row) return [label, { look: 'done', at: row.position, ring, words: words(say('marks.done_at', { done: doneWords(stage.method), position: ordinal(row.position) })) }]
    if (stage.skipped.includes(label)) return [label, { look: 'skipped', at: planned, ring, words: words(say('marks.skipped')) }]
    if (current && state.next === label) return [label, { look: 'next', at: planned, ring, words: words(say('marks.next'), inOrder) }]
    return [label, { look: 'open', at: planned, ring, words: words(inOrder) }]
  })
  return Object.fromEntries(marks)
}

function ringOf(state: RunState, stage: StageState, label: string): JointMark['ring'] {
  const own = state.departures.filter((deviation) => deviation.stage === stage.code && deviation.label === label && deviation.answered?.how !== 'restart')
  if (own.length === 0) return undefined
  return own.some(({ answered }) => !answered) ? 'open' : 'answered'
}
