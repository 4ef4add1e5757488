import { useState } from 'preact/hooks'
import { answerDeparture } from '../../capture/index.ts'
import { Choice } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job } from '../../store/index.ts'
import { STATE } from '../../trade/tightening/values.ts'
import { Reason, Restart } from './RunDepartures.tsx'
import { RunEstimate } from './RunEstimate.tsx'
import { boltCautions, boltsWords, targetWords, threadWords, toleranceWords } from './runWords.ts'
import { canSpeak, letSpeak, speaks } from '../speaking/speech.ts'
import { type RunInHand, whereIn } from './useRun.ts'
import { useSaving } from '../frame/useSaving.ts'

const STATES = Object.entries(STATE).map(([value, words]) => ({ value, words }))

type Way = '' | 'leave out' | 'estimate' | { again: string }

/** The sheet itself: where it comes from, its stages, and what is done seldom. */
export function RunSheet({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const [way, setWay] = useState<Way>('')
  const run = hand.run!
  const { sheet } = run
  const state = hand.state!
  if (way === 'leave out') return <LeaveOut job={job} hand={hand} onClose={onClose} />
  if (way === 'estimate') return <RunEstimate sheet={sheet} onClose={() => setWay('')} />
  if (way) return <Restart job={job} hand={hand} stage={way.again} onClose={onClose} />
  return (
    <Sheet title={sheet.name} onClose={onClose}>
      <div class="this-sheet">
        <p class="small">
          {[threadWords(sheet), boltsWords(sheet, run.bolts, hand.thread)].filter(Boolean).join(', ')}. From: {sheet.source}
        </p>
        {boltCautions(sheet).map((words) => (
          <p key={words} class="run-caution small">
            {words}
          </p>
        ))}
        {sheet.note && <p class="small">{sheet.note}</p>}
        <ol class="stage-list">
          {state.stages.map((stage, index) => (
            <li key={stage.code} class={index === state.stage ? 'is-now' : ''}>
              <span>
                <strong>{stage.words}</strong>, {targetWords(stage)} <span class="figure">{toleranceWords(stage)}</span>
                {stage.after && <span class="small"> {stage.after}</span>}
                {stage.proposed && <span class="tag-brass">order only proposed</span>}
                <span class="small soft">
                  {' '}
                  {stage.done.length} of {stage.order.length}
                </span>
              </span>
              {stage.done.length > 0 && !state.closed && (
                <button type="button" aria-label={`Do ${stage.words} again`} onClick={() => setWay({ again: stage.code })}>
                  Again
                </button>
              )}
            </li>
          ))}
        </ol>
        {hand.next && <Choice label="The threads are" options={STATES} chosen={[hand.thread]} onChoose={hand.sayThread} />}
        {hand.next && (
          <button type="button" class="wide" onClick={() => setWay('leave out')}>
            Leave number {hand.next} out
          </button>
        )}
        {sheet.stages.some((stage) => stage.method === 'torque') && (
          <button type="button" class="wide" onClick={() => setWay('estimate')}>
            Preload, an estimate
          </button>
        )}
        <Aloud />
      </div>
    </Sheet>
  )
}

function Aloud() {
  if (!canSpeak()) return <p class="small soft">This phone has no voice of its own, so the next number is not said aloud.</p>
  return (
    <button type="button" class="wide" aria-pressed={speaks()} onClick={() => letSpeak(!speaks())}>
      Say the next number aloud
    </button>
  )
}

/** Answered before it is asked for: the fastener is not tightened in this stage, and here is why. */
function LeaveOut({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const { told, busy, keep } = useSaving()
  const [label] = useState(hand.next ?? '')
  const run = hand.run!
  const stage = hand.stage!
  const before = hand.state!.departures.filter((one) => one.stage === stage.code && one.label === label && one.sort === 'skipped').length
  const take = async (reason: string): Promise<boolean> => {
    const key = `${stage.code}/${label}/skipped/${before + 1}`
    const saved = await keep(() => answerDeparture(whereIn(job, run, label), run.id, key, reason), 'Saved.')
    if (saved) onClose()
    return saved !== null
  }
  return (
    <Reason
      title={`Leave number ${label} out`}
      words={`Number ${label} is left out of ${stage.words}, and the record says so with your reason.`}
      draft={`leave/${run.id}/${stage.code}/${label}`}
      act="Leave it out"
      busy={busy}
      wrong={told.wrong ? told.words : ''}
      onKeep={take}
      onClose={onClose}
    />
  )
}
