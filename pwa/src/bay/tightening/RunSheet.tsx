import { useState } from 'preact/hooks'
import { answerDeparture } from '../../capture/index.ts'
import { Choice } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job } from '../../store/index.ts'
import { STATE } from '../../trade/tightening/values.ts'
import { Reason, Restart } from './RunDeviations.tsx'
import { RunEstimate } from './RunEstimate.tsx'
import { boltCautions, sourceWords, targetWords, toleranceWords } from './runWords.ts'
import { canSpeak, letSpeak, speaks } from '../speaking/speech.ts'
import { type RunInHand, whereIn } from './useRun.ts'
import { useSaving } from '../frame/useSaving.ts'
import { say } from '../frame/say.ts'

const STATES = Object.entries(STATE).map(([value, words]) => ({ value, words }))

type Way = '' | 'skip' | 'estimate' | { again: string }

/** The tightening sheet itself: where it comes from, its stages, and what is seldom needed. */
export function RunSheet({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const [way, setWay] = useState<Way>('')
  const run = hand.run!
  const { sheet } = run
  const state = hand.state!
  if (way === 'skip') return <Skip job={job} hand={hand} onClose={onClose} />
  if (way === 'estimate') return <RunEstimate sheet={sheet} onClose={() => setWay('')} />
  if (way) return <Restart job={job} hand={hand} stage={way.again} onClose={onClose} />
  return (
    <Sheet title={sheet.name} onClose={onClose}>
      <div class="stack">
        <p class="small">
          {sourceWords(sheet, run.bolts, hand.thread)}
        </p>
        {boltCautions(sheet).map((words) => (
          <p key={words} class="warned small">
            {words}
          </p>
        ))}
        {sheet.note && <p class="small">{sheet.note}</p>}
        <ol class="stage-list">
          {state.stages.map((stage, index) => (
            <li key={stage.code} class={`along ends hair-under${index === state.stage ? ' is-now' : ''}`}>
              <span>
                <strong>{stage.words}</strong>, {targetWords(stage)} <span class="figure">{toleranceWords(stage)}</span>
                {stage.after && <span class="small"> {stage.after}</span>}
                {stage.proposed && <span class="tag-brass tiny">{say('run.order_proposed')}</span>}
                <span class="small soft">
                  {' '}
                  {say('run.done_of', { done: stage.done.length, all: stage.order.length })}
                </span>
              </span>
              {stage.done.length > 0 && !state.closed && (
                <button class="keeps" type="button" aria-label={say('restart.title', { stage: stage.words })} onClick={() => setWay({ again: stage.code })}>
                  {say('common.again')}
                </button>
              )}
            </li>
          ))}
        </ol>
        {hand.next && <Choice label={say('run.threads')} options={STATES} chosen={[hand.thread]} onChoose={hand.chooseThread} />}
        {hand.next && (
          <button type="button" class="wide" onClick={() => setWay('skip')}>
            {say('skip.skip', { number: hand.next })}
          </button>
        )}
        {sheet.stages.some((stage) => stage.method === 'torque') && (
          <button type="button" class="wide" onClick={() => setWay('estimate')}>
            {say('estimate.title')}
          </button>
        )}
        <Aloud />
      </div>
    </Sheet>
  )
}

function Aloud() {
  if (!canSpeak()) return <p class="small soft">{say('run.no_voice')}</p>
  return (
    <button type="button" class="wide" aria-pressed={speaks()} onClick={() => letSpeak(!speaks())}>
      {say('run.call_out')}
    </button>
  )
}

/** Answered in advance: the fastener is not tightened in this stage, and this is the reason. */
function Skip({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const { message, busy, attempt } = useSaving()
  const [label] = useState(hand.next ?? '')
  const run = hand.run!
  const stage = hand.stage!
  const before = hand.state!.departures.filter((deviation) => deviation.stage === stage.code && deviation.label === label && deviation.sort === 'skipped').length
  const save = async (reason: string): Promise<boolean> => {
    const key = `${stage.code}/${label}/skipped/${before + 1}`
    const saved = await attempt(() => answerDeparture(whereIn(job, run, label), run.id, key, reason), say('common.saved'))
    if (saved) onClose()
    return saved !== null
  }
  return (
    <Reason
      title={say('skip.skip', { number: label })}
      words={say('skip.about', { number: label, stage: stage.words })}
      draft={`leave/${run.id}/${stage.code}/${label}`}
      act={say('skip.save')}
      busy={busy}
      wrong={message.wrong ? message.words : ''}
      onSave={save}
      onClose={onClose}
    />
  )
}
