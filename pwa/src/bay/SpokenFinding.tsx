import { SaidFrame, type SaidCell } from '../parts/SaidFrame.tsx'
import { Cross } from '../parts/icons.tsx'
import type { EngineType, Job } from '../store/index.ts'
import type { Proposal, Screen } from '../trade/spoken_types.ts'
import { Heard } from './SpokenFigure.tsx'
import { SpokenPanel, SpokenTold } from './SpokenPanel.tsx'
import { nameOfPlace } from './places.ts'
import { whyNoFinding } from './spoken.ts'
import { dispositionWords } from './dispositions.ts'
import { goTo, useWhere } from './useJob.ts'
import { type Spoken, useSpoken } from './useSpoken.ts'

export function useSpokenFinding(job: Job, type: EngineType | null) {
  const at = useWhere(job)
  const screen: Screen = { sort: 'finding', place: at.place, point: at.point, procedure: '', reading: '', quantity: '', units: [] }
  return useSpoken({ at, type, screen, why: whyNoFinding })
}

/**
 * What was understood of a finding: words to be taken into the form, where they are read once more before it is kept.
 * Touched, a condition is left out.
 */
export function SpokenFinding({ job, spoken }: { job: Job; spoken: Spoken }) {
  const at = useWhere(job)
  const { proposal } = spoken
  if (spoken.phase === 'still') return spoken.told.words || spoken.failed.wrong ? <div class="said"><SpokenTold spoken={spoken} /></div> : null
  return (
    <SpokenPanel spoken={spoken} of={nameOfPlace(job, at.place, at.point)}>
      {proposal && (
        <>
          <SaidFrame cells={cellsOf(proposal, spoken)} name="As it was understood" />
          {elsewhere(proposal, at.place) && (
            <button type="button" class="wide said-elsewhere" onClick={() => goTo(job, proposal.place, proposal.point)}>
              It was said of {nameOfPlace(job, proposal.place)}: go there
            </button>
          )}
          <Heard words={spoken.heard?.heard ?? ''} />
        </>
      )}
    </SpokenPanel>
  )
}

/** A place that was said never changes the place in hand by itself. */
const elsewhere = (proposal: Proposal, place: string) => proposal.place_spoken && proposal.place !== '' && proposal.place !== place

function cellsOf(proposal: Proposal, spoken: Spoken): SaidCell[] {
  const without = (word: string) => () =>
    spoken.change('condition', (before) => ({ ...before, conditions: before.conditions.filter((one) => one !== word) }))
  const out = { sign: <Cross size={18} />, does: 'leave it out' }
  const conditions: SaidCell[] = proposal.conditions.map((word) => ({ label: 'condition', words: word, ...out, onOpen: without(word) }))
  if (!proposal.disposition) return conditions
  const drop = () => spoken.change('disposition', (before) => ({ ...before, disposition: '' }))
  return [...conditions, { label: 'to do', words: dispositionWords(proposal.disposition), ...out, onOpen: drop }]
}
