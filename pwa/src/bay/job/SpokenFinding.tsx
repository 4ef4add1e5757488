import { SpokenFrame, type SpokenCell } from '../../parts/controls/SpokenFrame.tsx'
import { Cross } from '../../parts/controls/icons.tsx'
import type { EngineType, Job } from '../../store/index.ts'
import type { Proposal, Screen } from '../../trade/spoken/types.ts'
import { Heard } from '../speaking/SpokenFigure.tsx'
import { SpokenPanel, SpokenMessage } from '../speaking/SpokenPanel.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { whyNoFinding } from '../speaking/spoken.ts'
import { dispositionWords } from './dispositions.ts'
import { useWhere } from '../frame/useJob.ts'
import { type Spoken, useSpoken } from '../speaking/useSpoken.ts'
import { say } from '../frame/say.ts'

export function useSpokenFinding(job: Job, type: EngineType | null) {
  const at = useWhere(job)
  const screen: Screen = { sort: 'finding', place: at.place, point: at.point, procedure: '', reading: '', quantity: '', units: [] }
  return useSpoken({ at, type, screen, why: whyNoFinding })
}

/**
 * What was understood of a finding: words for the form, where they are read once more before it is saved.
 * Touched, a condition is left out.
 */
export function SpokenFinding({ job, spoken }: { job: Job; spoken: Spoken }) {
  const at = useWhere(job)
  const { proposal } = spoken
  if (spoken.phase === 'still') return spoken.message.words || spoken.failed.wrong ? <div class="said thick-over"><SpokenMessage spoken={spoken} /></div> : null
  return (
    <SpokenPanel spoken={spoken} of={nameOfPlace(job, at.place, at.point)} hint={say('finding.spoken_hint')}>
      {proposal && (
        <>
          <SpokenFrame cells={cellsOf(job, at.place, proposal, spoken)} name={say('speaking.as_understood')} />
          <Heard words={spoken.heard?.heard ?? ''} />
        </>
      )}
    </SpokenPanel>
  )
}

function cellsOf(job: Job, place: string, proposal: Proposal, spoken: Spoken): SpokenCell[] {
  const out = { sign: <Cross size={18} />, does: say('finding.leave_out') }
  const without = (word: string) => () =>
    spoken.change('condition', (before) => ({ ...before, conditions: before.conditions.filter((condition) => condition !== word) }))
  const there: SpokenCell = isElsewhere(proposal, place)
    ? {
        label: say('common.place'), words: nameOfPlace(job, proposal.place, proposal.point), from: 'spoken', sign: out.sign, does: say('finding.stay_at', { place: nameOfPlace(job, place) }),
        onOpen: () => spoken.change('place', (before) => ({ ...before, place, place_spoken: false })),
      }
    : { label: say('common.place'), words: nameOfPlace(job, place), from: proposal.place_spoken ? 'spoken' : 'screen' }
  const conditions: SpokenCell[] = proposal.conditions.map((word) => ({ label: say('finding.condition_cell'), words: word, ...out, onOpen: without(word) }))
  if (!proposal.disposition) return [there, ...conditions]
  const drop = () => spoken.change('disposition', (before) => ({ ...before, disposition: '' }))
  return [there, ...conditions, { label: say('finding.to_do_cell'), words: dispositionWords(proposal.disposition), ...out, onOpen: drop }]
}

/** Spoken of another place than the one in hand: used with the rest, in sight, unless it is touched away. */
export const isElsewhere = (proposal: Proposal, place: string): boolean => proposal.place_spoken && proposal.place !== '' && proposal.place !== place
