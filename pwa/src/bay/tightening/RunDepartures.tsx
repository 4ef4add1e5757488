import { useState } from 'preact/hooks'
import { answerDeparture, restartStage, type Second as Signed, signedIn } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job } from '../../store/index.ts'
import type { Departure } from '../../trade/tightening/run.ts'
import { turnedAgainWords } from '../../trade/tightening/departures.ts'
import { Told } from '../frame/Frame.tsx'
import { nameOf } from './runWords.ts'
import { Second } from '../people/Second.tsx'
import { useDraft } from '../frame/useDraft.ts'
import { type RunInHand, whereIn } from './useRun.ts'
import { useSaving } from '../frame/useSaving.ts'

// Doing the stage again does not undo these.
const STAYS = ['order_proposed', 'stretch_reused']

/** Where the run departs from its sheet, each as it happened; answered by a reason or by doing the stage again. */
export function RunDepartures({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const { departures } = hand.state!
  const open = departures.filter((one) => !one.answered)
  const settled = departures.filter((one) => one.answered)
  const [asked, setAsked] = useState<{ one: Departure; again: boolean } | null>(null)
  if (asked) return asked.again ? <Restart job={job} hand={hand} stage={asked.one.stage} onClose={() => setAsked(null)} /> : <Why job={job} hand={hand} one={asked.one} onClose={() => setAsked(null)} />
  return (
    <Sheet title="Departures from the sheet" onClose={onClose}>
      {departures.length === 0 && <p>None so far.</p>}
      {open.length === 0 && departures.length > 0 && <p>All are answered.</p>}
      <ul class="departures">
        {open.map((one) => (
          <li key={one.key} class="is-open">
            <p>
              {one.words}
              {one.needs === 'manager' && <strong> It needs a manager's reason.</strong>}
            </p>
            <div class="pair">
              <button type="button" class="main-act" onClick={() => setAsked({ one, again: false })}>
                Say why
              </button>
              {!STAYS.includes(one.sort) && hand.state!.stages.some((stage) => stage.code === one.stage) && !hand.state!.closed && (
                <button type="button" onClick={() => setAsked({ one, again: true })}>
                  Do this stage again
                </button>
              )}
            </div>
          </li>
        ))}
        {settled.map((one) => (
          <li key={one.key}>
            <p>{one.words}</p>
            <p class="small soft">
              {one.answered!.how === 'restart' ? 'The stage was begun again' : 'Reason'}, {nameOf(one.answered!.by)}: {one.answered!.reason}
            </p>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

/** The reason of one departure; of a manager where only a manager may give it. */
function Why({ job, hand, one, onClose }: { job: Job; hand: RunInHand; one: Departure; onClose: () => void }) {
  const [signing, setSigning] = useState('')
  const { told, busy, keep } = useSaving()
  const run = hand.run!
  const answer = (reason: string, second?: Signed | null) => answerDeparture(whereIn(job, run, one.label), run.id, one.key, reason, second ?? undefined)
  const alone = one.needs !== 'manager' || signedIn.value?.role === 'manager'
  const take = async (reason: string): Promise<boolean> => {
    if (!alone) {
      setSigning(reason)
      return false
    }
    const saved = await keep(() => answer(reason), 'Saved.')
    if (saved) onClose()
    return saved !== null
  }
  if (signing) {
    return (
      <Second
        title="A manager signs this reason"
        act="Sign it"
        notFor={(person) => (person.role === 'manager' ? '' : 'no manager')}
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
      title="Why it was so"
      words={one.words}
      draft={`why/${run.id}/${one.key}`}
      act={alone ? 'Keep the reason' : 'Keep it: a manager signs'}
      busy={busy}
      wrong={told.wrong ? told.words : ''}
      onKeep={take}
      onClose={onClose}
    />
  )
}

/** All fasteners of a stage, and of those after it, are asked for again; what was done stays in the record. */
export function Restart({ job, hand, stage, onClose }: { job: Job; hand: RunInHand; stage: string; onClose: () => void }) {
  const { told, busy, keep } = useSaving()
  const run = hand.run!
  const named = hand.state!.stages.find((one) => one.code === stage)
  const from = hand.state!.stages.findIndex((one) => one.code === stage)
  const stretched = hand.state!.stages.slice(from).map((one) => turnedAgainWords(run.sheet, one, new Set(one.done.map((row) => row.label)).size))
  const take = async (reason: string): Promise<boolean> => {
    const saved = await keep(() => restartStage(whereIn(job, run), run.id, stage, reason), 'Saved.')
    if (saved) onClose()
    return saved !== null
  }
  return (
    <Reason
      title={`Do ${named?.words ?? stage} again`}
      words={[...stretched, 'Every fastener of this stage and of those after it is asked for again. What was done before stays in the record.'].filter(Boolean).join(' ')}
      draft={`again/${run.id}/${stage}`}
      act="Begin the stage again"
      busy={busy}
      wrong={told.wrong ? told.words : ''}
      onKeep={take}
      onClose={onClose}
    />
  )
}

interface ReasonProps {
  title: string
  words: string
  /** Under which key the words are kept while they are written. */
  draft: string
  act: string
  busy: boolean
  wrong: string
  /** Whether it became a record. */
  onKeep: (reason: string) => Promise<boolean>
  onClose: () => void
}

export function Reason(props: ReasonProps) {
  const { value, change, done } = useDraft(props.draft, { reason: '' })
  const reason = value.reason.trim()
  const keep = async () => {
    if (reason && (await props.onKeep(reason))) await done()
  }
  return (
    <Sheet title={props.title} onClose={props.onClose}>
      <div class="form">
        <p>{props.words}</p>
        <Field label="Reason" value={value.reason} onValue={(reason) => change({ reason })} lines={3} needed />
        <Told words={props.wrong} wrong />
        <button type="button" class="wide main-act" disabled={props.busy || !reason} onClick={() => void keep()}>
          {props.act}
        </button>
      </div>
    </Sheet>
  )
}
