import { useRef } from 'preact/hooks'
import type { EngineType, Job } from '../../store/index.ts'
import type { Proposal, Screen } from '../../trade/spoken/types.ts'
import type { StageState } from '../../trade/tightening/run.ts'
import { valueObjection } from '../../trade/tightening/values.ts'
import { SpokenFigure } from '../speaking/SpokenFigure.tsx'
import { SpokenPanel, SpokenMessage } from '../speaking/SpokenPanel.tsx'
import { unitsOf } from './RunTyped.tsx'
import { wanting, whyNoFigure } from '../speaking/spoken.ts'
import { type RunInHand, whereIn } from './useRun.ts'
import { type Spoken, useSpoken } from '../speaking/useSpoken.ts'
import { say } from '../frame/say.ts'

/** Speaking the value that was reached: of the fastener that is next, or of the one that is named. */
export function useSpokenRun(job: Job, type: EngineType | null, hand: RunInHand) {
  const { run, stage, next } = hand
  const at = run ? whereIn(job, run, next ?? '') : { job: job.id, place: '', point: '' }
  const units = stage ? unitsOf(stage) : []
  const quantity = stage?.method === 'angle' || stage?.unit === '°' ? 'angle' : 'torque'
  const screen: Screen = { sort: 'tighten', place: at.place, point: '', procedure: '', reading: '', quantity, units }
  const spoken = useSpoken({ at, type, screen, why: whyNoFigure })
  // Which fastener was next when it was spoken: by the time it is understood another hand may have gone on.
  const lit = useRef(next)
  if (spoken.phase === 'still' || spoken.phase === 'opening') lit.current = next
  const { proposal } = spoken
  const { label, fault } = proposal ? fastenerOf(proposal, hand, lit.current) : { label: '', fault: '' }
  const wants = proposal ? wanting(proposal, { place: label, quantity, units }) : []
  const ready = Boolean(proposal && label && !fault && wants.length === 0)
  const warning = ready && stage && proposal ? deviationOf(stage, label, proposal, hand) : ''
  const record = async () => {
    if (!ready || !proposal || !spoken.heard) return
    if (await hand.record(label, { value: proposal.value, unit: proposal.unit }, spoken.heard)) spoken.putAway()
  }
  return { ...spoken, label, fault, wants, ready, warning, units, record }
}

export type SpokenInRun = ReturnType<typeof useSpokenRun>

/** The fastener that was named, if it is one of this joint; else the one that was next. */
function fastenerOf(proposal: Proposal, { run }: RunInHand, lit: string | null): { label: string; fault: string } {
  if (!proposal.place_spoken) return { label: lit ?? '', fault: '' }
  const named = run?.fasteners.find(({ label }) => `${run.joint}/${label}` === proposal.place)
  return named ? { label: named.label, fault: '' } : { label: '', fault: say('speaking.not_this_joint') }
}

/** What was understood, in the place of the target; the target stands in it, small, for whoever wants to compare. */
export function SpokenRun({ hand, spoken }: { hand: RunInHand; spoken: SpokenInRun }) {
  const { stage } = hand
  const { label } = spoken
  const again = stage?.done.some((row) => row.label === label)
  const named = again ? say('run.number_again', { number: label }) : say('run.number', { number: label })
  return (
    <SpokenPanel spoken={spoken as Spoken} of={hand.next ? say('run.number_title', { number: hand.next }) : (stage?.words ?? '')}>
      <SpokenFigure
        spoken={spoken as Spoken}
        place={label ? named : ''}
        placeLabel={say('speaking.fastener')}
        what=""
        hidden="quantity"
        units={spoken.units}
        wants={spoken.wants}
        warning={spoken.warning}
        fault={spoken.fault}
      />
    </SpokenPanel>
  )
}

/** What will be recorded as a deviation when it is saved as it is; '' where it will not. */
function deviationOf(stage: StageState, label: string, { value, unit }: Proposal, hand: RunInHand): string {
  const deviation = valueObjection(stage, label, { value, unit, method: stage.method, tool: hand.held.name, given: 'typed' } as never)
  return deviation ? deviation[1] : ''
}

/** Beside the target, while nothing is spoken: why nothing was proposed. */
export const SpokenRunMessage = ({ spoken }: { spoken: SpokenInRun }) => <SpokenMessage spoken={spoken as Spoken} />
