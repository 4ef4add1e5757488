import { useState } from 'preact/hooks'
import { answerDeparture, restartStage, type Second as Signed, signedIn } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job } from '../../store/index.ts'
import type { Departure } from '../../trade/tightening/run.ts'
import { turnedAgainWords } from '../../trade/tightening/departures.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { nameOf } from './runWords.ts'
import { Second } from '../people/Second.tsx'
import { useDraft } from '../frame/useDraft.ts'
import { type RunInHand, whereIn } from './useRun.ts'
import { useSaving } from '../frame/useSaving.ts'
import { say } from '../frame/say.ts'

// Doing the stage again does not undo these.
const STAYS = ['order_proposed', 'stretch_reused']

/** Where the run deviates from its sheet, each as it happened; answered by a reason or by doing the stage again. */
export function RunDeviations({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const { departures: deviations } = hand.state!
  const open = deviations.filter(({ answered }) => !answered)
  const settled = deviations.filter(({ answered }) => answered)
  const [answering, setAnswering] = useState<{ deviation: Departure; again: boolean } | null>(null)
  const back = () => setAnswering(null)
  if (answering?.again) return <Restart job={job} hand={hand} stage={answering.deviation.stage} onClose={back} />
  if (answering) return <Why job={job} hand={hand} deviation={answering.deviation} onClose={back} />
  const canRestart = ({ sort, stage }: Departure) => !STAYS.includes(sort) && hand.state!.stages.some(({ code }) => code === stage) && !hand.state!.closed
  return (
    <Sheet title={say('deviations.title')} onClose={onClose}>
      {deviations.length === 0 && <p>{say('deviations.none')}</p>}
      {open.length === 0 && deviations.length > 0 && <p>{say('deviations.all_answered')}</p>}
      <ul class="departures ruled">
        {open.map((deviation) => (
          <li key={deviation.key} class="stack is-open">
            <p>
              {deviation.words}
              {deviation.needs === 'manager' && <strong> {say('deviations.needs_manager')}</strong>}
            </p>
            <div class="pair wraps">
              <button type="button" class="main-act" onClick={() => setAnswering({ deviation, again: false })}>
                {say('deviations.give_reason')}
              </button>
              {canRestart(deviation) && (
                <button type="button" onClick={() => setAnswering({ deviation, again: true })}>
                  {say('deviations.do_again')}
                </button>
              )}
            </div>
          </li>
        ))}
        {settled.map(({ key, words, answered }) => (
          <li key={key} class="stack">
            <p>{words}</p>
            <p class="small soft">{answered!.how === 'restart' ? say('deviations.restarted_by', { ...byWords(answered!) }) : say('deviations.reason_by', { ...byWords(answered!) })}</p>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

const byWords = ({ by, reason }: NonNullable<Departure['answered']>) => ({ name: nameOf(by), reason })

/** The reason of one deviation; a manager's where only a manager may give it. */
function Why({ job, hand, deviation, onClose }: { job: Job; hand: RunInHand; deviation: Departure; onClose: () => void }) {
  const [signing, setSigning] = useState('')
  const { message, busy, attempt } = useSaving()
  const run = hand.run!
  const answer = (reason: string, second?: Signed | null) => answerDeparture(whereIn(job, run, deviation.label), run.id, deviation.key, reason, second ?? undefined)
  const alone = deviation.needs !== 'manager' || signedIn.value?.role === 'manager'
  const save = async (reason: string): Promise<boolean> => {
    if (!alone) {
      setSigning(reason)
      return false
    }
    const saved = await attempt(() => answer(reason), say('common.saved'))
    if (saved) onClose()
    return saved !== null
  }
  if (signing) {
    return (
      <Second
        title={say('deviations.manager_signs')}
        act={say('deviations.sign')}
        notFor={(person) => (person.role === 'manager' ? '' : say('deviations.not_manager'))}
        onSign={async (second) => {
          await answer(signing, second)
          onClose()
        }}
        onClose={() => setSigning('')}
      />
    )
  }
  return (
    <Reason
      title={say('deviations.why')}
      words={deviation.words}
      draft={`why/${run.id}/${deviation.key}`}
      act={alone ? say('deviations.save') : say('deviations.on_to_manager')}
      busy={busy}
      wrong={message.wrong ? message.words : ''}
      onSave={save}
      onClose={onClose}
    />
  )
}

/** All fasteners of a stage, and of those after it, have to be done again; what was done stays in the record. */
export function Restart({ job, hand, stage, onClose }: { job: Job; hand: RunInHand; stage: string; onClose: () => void }) {
  const { message, busy, attempt } = useSaving()
  const run = hand.run!
  const from = hand.state!.stages.findIndex(({ code }) => code === stage)
  const stretched = hand.state!.stages.slice(from).map((later) => turnedAgainWords(run.sheet, later, new Set(later.done.map((row) => row.label)).size))
  const save = async (reason: string): Promise<boolean> => {
    const saved = await attempt(() => restartStage(whereIn(job, run), run.id, stage, reason), say('common.saved'))
    if (saved) onClose()
    return saved !== null
  }
  return (
    <Reason
      title={say('restart.title', { stage: hand.state!.stages[from]?.words ?? stage })}
      words={[...stretched, say('restart.about')].filter(Boolean).join(' ')}
      draft={`again/${run.id}/${stage}`}
      act={say('restart.restart')}
      busy={busy}
      wrong={message.wrong ? message.words : ''}
      onSave={save}
      onClose={onClose}
    />
  )
}

interface ReasonProps {
  title: string
  words: string
  /** Under which key the words are stored while they are written. */
  draft: string
  act: string
  busy: boolean
  wrong: string
  /** Whether it became a record. */
  onSave: (reason: string) => Promise<boolean>
  onClose: () => void
}

export function Reason(props: ReasonProps) {
  const { value, change, done } = useDraft(props.draft, { reason: '' })
  const reason = value.reason.trim()
  const save = async () => {
    if (reason && (await props.onSave(reason))) await done()
  }
  return (
    <Sheet title={props.title} onClose={props.onClose}>
      <div class="form">
        <p>{props.words}</p>
        <Field label={say('common.reason')} value={value.reason} onValue={(reason) => change({ reason })} lines={3} needed />
        <StatusMessage words={props.wrong} wrong />
        <button type="button" class="wide main-act" disabled={props.busy || !reason} onClick={() => void save()}>
          {props.act}
        </button>
      </div>
    </Sheet>
  )
}
