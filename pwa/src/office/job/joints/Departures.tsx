import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { SORTS, type Departure } from '../../../trade/tightening/departures.ts'
import { useDesk } from '../desk/useDesk.ts'
import { Fault } from '../../frame/Say.tsx'
import { isManager } from '../../frame/session.ts'
import { count } from '../../frame/words.ts'
import { nameIn, placeOf, type JobRun } from './shapes.ts'
import { ExhibitLink } from './StageColumn.tsx'

interface Props {
  job: string
  run: JobRun
  again: () => void
}

/** Everything that was done otherwise than asked, each with its answer or what it still needs. */
export function Departures({ job, run, again }: Props) {
  const { departures } = run
  const open = departures.filter(({ answered }) => !answered)
  return (
    <section class="departures" aria-labelledby="departures-title">
      <h2 id="departures-title">Departures from the sheet</h2>
      {departures.length === 0 && <p>None: everything was done as the sheet asks.</p>}
      {open.length > 0 && (
        <p class="caution">
          <b>{count(open.length, 'departure')} still to be answered.</b>
        </p>
      )}
      <ul>
        {departures.map((one) => (
          <li key={one.key} class={one.answered ? '' : 'is-open'}>
            <p>
              <b>{SORTS[one.sort]}</b> {one.words}
            </p>
            {one.answered ? (
              <p class="departure-answer">
                {one.answered.how === 'restart' ? 'The stage was begun again: ' : ''}“{one.answered.reason}”{' '}
                <i>{nameIn(run, one.answered.by)}</i> <ExhibitLink job={job} entry={one.answered.entry} run={run} />
              </p>
            ) : (
              <Answer run={run} departure={one} again={again} />
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** A reason given at the desk; the words say who may give it. */
function Answer({ run, departure, again }: { run: JobRun; departure: Departure; again: () => void }) {
  const [reason, setReason] = useState<string | null>(null)
  const [tried, setTried] = useState(false)
  const { fault, sending, send } = useDesk()
  const needs = departure.needs === 'manager' ? 'It needs a manager’s reason.' : 'It needs a reason, or the stage begun again on the phone.'
  const keep = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (!reason?.trim()) return
    const body = { run: run.run, departure: departure.key, reason: reason.trim() }
    if (await send({ kind: 'departure_answered', location: placeOf(run, departure.label), body, media: [] })) again()
  }
  if (reason === null)
    return (
      <p class="departure-answer">
        {needs}{' '}
        {isManager.value && (
          <button type="button" class="plain" onClick={() => setReason('')} aria-label={`Answer it: ${departure.words}`}>
            answer it
          </button>
        )}
      </p>
    )
  return (
    <form noValidate class="departure-form" onSubmit={keep}>
      <Field
        label="Reason"
        value={reason}
        onValue={setReason}
        lines={2}
        needed
        autoFocus
        hint="It goes into the record under your name and stays."
        wrong={tried && !reason.trim() ? 'Say why it was done so.' : ''}
      />
      <Fault>{fault}</Fault>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          Give this reason
        </button>
        <button type="button" class="plain" onClick={() => setReason(null)}>
          Leave
        </button>
      </div>
    </form>
  )
}
