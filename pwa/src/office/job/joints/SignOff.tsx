import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import type { Signed } from '../../../trade/tightening/run.ts'
import { useDesk } from '../desk/useDesk.ts'
import { FaultNotice } from '../../frame/notices.tsx'
import { isManager, me } from '../../frame/session.ts'
import { day, shortClock } from '../../frame/words.ts'
import type { NewEntry } from '../../frame/shapes.ts'
import { nameIn, placeOf, type JobRun } from './shapes.ts'
import { ExhibitLink } from './StageColumn.tsx'
import { say } from '../../frame/say.ts'

interface Props {
  job: string
  run: JobRun
  reload: () => void
}

/** How a run ended: witnessed, closed, or what is still missing; and the way to witness and close it at the desk. */
export function SignOff({ job, run, reload }: Props) {
  // Deviations stand in full beside this; here they are only counted.
  const others = run.missing.filter((words) => !run.departures.some((departure) => words.startsWith(departure.words)))
  const hands = new Set(run.stages.flatMap(({ done, earlier }) => [...done, ...earlier.flat()]).map(({ by }) => by))
  const unwitnessed = run.sheet?.two_people && (!run.witnessed || hands.has(run.witnessed.by))
  const open = run.departures.filter(({ answered }) => !answered).length
  return (
    <section class="sign-off" aria-labelledby="sign-off-title">
      <h2 id="sign-off-title">{say('joints.sign_off')}</h2>
      {run.witnessed && <SignedBy sentence="joints.witnessed_by" job={job} signed={run.witnessed} run={run} />}
      {run.closed && <SignedBy sentence="joints.closed_by" job={job} signed={run.closed} run={run} />}
      {run.missing.length > 0 && (
        <>
          <p>{run.closed ? say('joints.closed_although') : say('joints.before_closing')}</p>
          <ul class="visits" aria-label={say('joints.missing')}>
            {open > 0 && <li class="caution">{say('joints.missing_answers', { count: open })}</li>}
            {others.map((words) => (
              <li key={words} class="caution">
                {words}
              </li>
            ))}
          </ul>
        </>
      )}
      {!run.closed && !run.missing.length && <p>{say('joints.nothing_missing')}</p>}
      {isManager.value && !run.closed && (
        <div class="sign-off-acts wraps above-5">
          {unwitnessed && !hands.has(me.value?.person.id ?? '') && (
            <Sign run={run} kind="tightening_witnessed" words={say('joints.witness')} reload={reload} />
          )}
          {unwitnessed && hands.has(me.value?.person.id ?? '') && (
            <p class="soft">{say('joints.not_your_own')}</p>
          )}
          {run.may_close && <Sign run={run} kind="tightening_closed" words={say('joints.close')} reload={reload} />}
        </div>
      )}
    </section>
  )
}

interface SignedByProps {
  sentence: 'joints.witnessed_by' | 'joints.closed_by'
  job: string
  signed: Signed
  run: JobRun
}

function SignedBy({ sentence, job, signed, run }: SignedByProps) {
  return (
    <p>
      {say(sentence, { name: nameIn(run, signed.by), day: day(signed.at) })} <span class="figure">{shortClock(signed.at)}</span>{' '}
      <ExhibitLink job={job} entry={signed.entry} run={run} />
      {signed.remark && <span class="own-line small">“{signed.remark}”</span>}
    </p>
  )
}

/** A signature at the desk, by whoever is signed in, with room for a remark. */
function Sign({ run, kind, words, reload }: { run: JobRun; kind: NewEntry['kind']; words: string; reload: () => void }) {
  const [remark, setRemark] = useState<string | null>(null)
  const { fault, sending, send } = useDesk()
  const save = async (event: Event) => {
    event.preventDefault()
    const body = { run: run.run, remark: remark?.trim() ?? '' }
    if (await send({ kind, location: placeOf(run), body, media: [] })) reload()
  }
  if (remark === null)
    return (
      <button type="button" class="main-act" onClick={() => setRemark('')}>
        {words}
      </button>
    )
  return (
    <form noValidate class="departure-form in-grid above-4" onSubmit={save} aria-label={words}>
      <p>
        {kind === 'tightening_witnessed' ? say('joints.you_witness') : say('joints.you_close')}{' '}
        {say('joints.signed_by', { name: me.value?.person.name ?? '' })}
      </p>
      <Field label={say('joints.remark')} value={remark} onValue={setRemark} lines={2} autoFocus />
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {words}
        </button>
        <button type="button" class="plain" onClick={() => setRemark(null)}>
          {say('common.cancel')}
        </button>
      </div>
    </form>
  )
}
