import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { SORTS, type Departure } from '../../../trade/tightening/departures.ts'
import { useDesk } from '../desk/useDesk.ts'
import { FaultNotice } from '../../frame/notices.tsx'
import { isManager } from '../../frame/session.ts'
import { nameIn, placeOf, type JobRun } from './shapes.ts'
import { ExhibitLink } from './StageColumn.tsx'
import { say } from '../../frame/say.ts'

interface Props {
  job: string
  run: JobRun
  reload: () => void
}

/** Every deviation from the tightening sheet, with its answer or what it still needs. */
export function Departures({ job, run, reload }: Props) {
  const { departures } = run
  const open = departures.filter(({ answered }) => !answered)
  return (
    <section class="departures" aria-labelledby="departures-title">
      <h2 id="departures-title">{say('joints.deviations_title')}</h2>
      {departures.length === 0 && <p>{say('joints.no_deviation')}</p>}
      {open.length > 0 && (
        <p class="caution">
          <b>{say('joints.deviations_open', { count: open.length })}</b>
        </p>
      )}
      <ul>
        {departures.map((departure) => (
          <li key={departure.key} class={departure.answered ? '' : 'is-open'}>
            <p>
              <b>{SORTS[departure.sort]}</b> {departure.words}
            </p>
            {departure.answered ? (
              <p class="departure-answer soft">
                {departure.answered.how === 'restart' && `${say('joints.restarted_because')} `}“{departure.answered.reason}”{' '}
                <i>{nameIn(run, departure.answered.by)}</i> <ExhibitLink job={job} entry={departure.answered.entry} run={run} />
              </p>
            ) : (
              <Answer run={run} departure={departure} reload={reload} />
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** What an open deviation needs, and the form in which a manager gives the reason. */
function Answer({ run, departure, reload }: { run: JobRun; departure: Departure; reload: () => void }) {
  const [reason, setReason] = useState<string | null>(null)
  const [tried, setTried] = useState(false)
  const { fault, sending, send } = useDesk()
  const needs = departure.needs === 'manager' ? say('joints.needs_manager') : say('joints.needs_reason')
  const save = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (!reason?.trim()) return
    const body = { run: run.run, departure: departure.key, reason: reason.trim() }
    if (await send({ kind: 'departure_answered', location: placeOf(run, departure.label), body, media: [] })) reload()
  }
  if (reason === null)
    return (
      <p class="departure-answer soft">
        {needs}{' '}
        {isManager.value && (
          <button type="button" class="plain" onClick={() => setReason('')} aria-label={say('joints.answer_to', { deviation: departure.words })}>
            {say('joints.answer')}
          </button>
        )}
      </p>
    )
  return (
    <form noValidate class="departure-form in-grid above-4" onSubmit={save}>
      <Field
        label={say('common.reason')}
        value={reason}
        onValue={setReason}
        lines={2}
        needed
        autoFocus
        hint={say('joints.reason_hint')}
        wrong={tried && !reason.trim() ? say('joints.reason_needed') : ''}
      />
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {say('joints.save_reason')}
        </button>
        <button type="button" class="plain" onClick={() => setReason(null)}>
          {say('common.cancel')}
        </button>
      </div>
    </form>
  )
}
