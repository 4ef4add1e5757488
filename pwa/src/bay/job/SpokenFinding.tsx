import { SaidFrame, type SaidCell } from '../../parts/controls/SaidFrame.tsx'
import { Cross } from '../../parts/controls/icons.tsx'
import type { EngineType, Job } from '../../store/index.ts'
import type { Proposal, Screen } from '../../trade/spoken/types.ts'
import { Heard } from '../speaking/SpokenFigure.tsx'
import { SpokenPanel, SpokenTold } from '../speaking/SpokenPanel.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { whyNoFinding } from '../speaking/spoken.ts'
import { dispositionWords } from './dispositions.ts'
import { useWhere } from '../frame/useJob.ts'
import { type Spoken, useSpoken } from '../speaking/useSpoken.ts'

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
    <SpokenPanel spoken={spoken} of={nameOfPlace(job, at.place, at.point)} hint="Where, what is seen, what is to be done.">
      {proposal && (
        <>
          <SaidFrame cells={cellsOf(job, at.place, proposal, spoken)} name="As it was understood" />
          <Heard words={spoken.heard?.heard ?? ''} />
        </>
      )}
    </SpokenPanel>
  )
}

function cellsOf(job: Job, place: string, proposal: Proposal, spoken: Spoken): SaidCell[] {
  const out = { sign: <Cross size={18} />, does: 'leave it out' }
  const without = (word: string) => () =>
    spoken.change('condition', (before) => ({ ...before, conditions: before.conditions.filter((one) => one !== word) }))
  const there: SaidCell = isElsewhere(proposal, place)
    ? {
        label: 'place', words: nameOfPlace(job, proposal.place, proposal.point), from: 'said', sign: out.sign, does: `stay at ${nameOfPlace(job, place)}`,
        onOpen: () => spoken.change('place', (before) => ({ ...before, place, place_spoken: false })),
      }
    : { label: 'place', words: nameOfPlace(job, place), from: proposal.place_spoken ? 'said' : 'screen' }
  const conditions: SaidCell[] = proposal.conditions.map((word) => ({ label: 'condition', words: word, ...out, onOpen: without(word) }))
  if (!proposal.disposition) return [there, ...conditions]
  const drop = () => spoken.change('disposition', (before) => ({ ...before, disposition: '' }))
  return [there, ...conditions, { label: 'to do', words: dispositionWords(proposal.disposition), ...out, onOpen: drop }]
}

/** Said of another place than the one in hand: taken over with the rest, in sight, unless it is touched away. */
export const isElsewhere = (proposal: Proposal, place: string): boolean => proposal.place_spoken && proposal.place !== '' && proposal.place !== place
