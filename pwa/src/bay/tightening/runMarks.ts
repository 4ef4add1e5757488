// What is marked at each fastener of the drawing, for the eye and for the ear.
import type { JointMark } from '../../parts/joint/JointDrawing.tsx'
import { ordinal } from '../../parts/joint/joint_layout.ts'
import type { RunState, StageTold } from '../../trade/tightening/run.ts'
import { DONE } from './runWords.ts'

/** The marks of a stage: what is next, done, left out, and where something departs from the sheet. */
export function marksOf(state: RunState, stage: StageTold): Record<string, JointMark> {
  const current = state.stage !== null && state.stages[state.stage] === stage
  const marks = stage.order.map((label): [string, JointMark] => {
    const row = stage.done.find((one) => one.label === label)
    const asked = stage.order.indexOf(label) + 1
    const ring = ringOf(state, stage, label)
    const away = ring ? `, ${ring === 'open' ? 'to be answered' : 'answered'}` : ''
    if (row) return [label, { look: 'done', at: row.position, ring, said: `${DONE[stage.method]} ${ordinal(row.position)}${away}` }]
    if (stage.skipped.includes(label)) return [label, { look: 'left out', at: asked, ring, said: `left out${away}` }]
    if (current && state.next === label) return [label, { look: 'next', at: asked, ring, said: `next, ${ordinal(asked)} in the order${away}` }]
    return [label, { look: 'open', at: asked, ring, said: `${ordinal(asked)} in the order${away}` }]
  })
  return Object.fromEntries(marks)
}

function ringOf(state: RunState, stage: StageTold, label: string): JointMark['ring'] {
  const own = state.departures.filter((one) => one.stage === stage.code && one.label === label && one.answered?.how !== 'restart')
  if (own.length === 0) return undefined
  return own.some((one) => !one.answered) ? 'open' : 'answered'
}
