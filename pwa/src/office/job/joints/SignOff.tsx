import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import type { Signed } from '../../../trade/tightening/run.ts'
import { useDesk } from '../desk/useDesk.ts'
import { Fault } from '../../frame/Say.tsx'
import { isManager, me } from '../../frame/session.ts'
import { count, day, shortClock } from '../../frame/words.ts'
import type { NewEntry } from '../../frame/shapes.ts'
import { nameIn, placeOf, type JobRun } from './shapes.ts'
import { ExhibitLink } from './StageColumn.tsx'

interface Props {
  job: string
  run: JobRun
  again: () => void
}

/** How a run ended: witnessed, closed, or what it still waits on; and the way to witness and close it at the desk. */
export function SignOff({ job, run, again }: Props) {
  // Departures stand in full beside this; here they are only counted.
  const others = run.missing.filter((words) => !run.departures.some((one) => words.startsWith(one.words)))
  const hands = new Set(run.stages.flatMap(({ done, earlier }) => [...done, ...earlier.flat()]).map(({ by }) => by))
  const unwitnessed = run.sheet?.two_people && (!run.witnessed || hands.has(run.witnessed.by))
  const open = run.departures.filter(({ answered }) => !answered).length
  return (
    <section class="sign-off" aria-labelledby="sign-off-title">
      <h2 id="sign-off-title">Sign-off</h2>
      {run.witnessed && <SignedBy words="Witnessed" job={job} signed={run.witnessed} run={run} />}
      {run.closed && <SignedBy words="Closed" job={job} signed={run.closed} run={run} />}
      {run.missing.length > 0 && (
        <>
          <p>{run.closed ? 'It was closed although this was missing:' : 'Before it may be closed:'}</p>
          <ul class="visits" aria-label="Missing">
            {open > 0 && <li class="caution">{count(open, 'departure')} to be answered.</li>}
            {others.map((words) => (
              <li key={words} class="caution">
                {words}
              </li>
            ))}
          </ul>
        </>
      )}
      {!run.closed && !run.missing.length && <p>Nothing is missing: it may be closed.</p>}
      {isManager.value && !run.closed && (
        <div class="sign-off-acts">
          {unwitnessed && !hands.has(me.value?.person.id ?? '') && (
            <Sign run={run} kind="tightening_witnessed" words="Witness it" again={again} />
          )}
          {unwitnessed && hands.has(me.value?.person.id ?? '') && (
            <p class="soft">You tightened here yourself: somebody else witnesses it.</p>
          )}
          {run.may_close && <Sign run={run} kind="tightening_closed" words="Close it" again={again} />}
        </div>
      )}
    </section>
  )
}

function SignedBy({ words, job, signed, run }: { words: string; job: string; signed: Signed; run: JobRun }) {
  return (
    <p>
      <b>{words}</b> by {nameIn(run, signed.by)}, {day(signed.at)} <span class="figure">{shortClock(signed.at)}</span>{' '}
      <ExhibitLink job={job} entry={signed.entry} run={run} />
      {signed.remark && <span class="row-said">“{signed.remark}”</span>}
    </p>
  )
}

/** One signature at the desk, with room for a remark. It is given by whoever is signed in. */
function Sign({ run, kind, words, again }: { run: JobRun; kind: NewEntry['kind']; words: string; again: () => void }) {
  const [remark, setRemark] = useState<string | null>(null)
  const { fault, sending, send } = useDesk()
  const keep = async (event: Event) => {
    event.preventDefault()
    const body = { run: run.run, remark: remark?.trim() ?? '' }
    if (await send({ kind, location: placeOf(run), body, media: [] })) again()
  }
  if (remark === null)
    return (
      <button type="button" class="main-act" onClick={() => setRemark('')}>
        {words}
      </button>
    )
  return (
    <form noValidate class="departure-form" onSubmit={keep} aria-label={words}>
      <p>
        {kind === 'tightening_witnessed' ? 'You say that you saw it done as it stands here.' : 'You say that this joint is finished as it stands here.'}{' '}
        Signed by {me.value?.person.name}.
      </p>
      <Field label="Remark" value={remark} onValue={setRemark} lines={2} autoFocus />
      <Fault>{fault}</Fault>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {words}
        </button>
        <button type="button" class="plain" onClick={() => setRemark(null)}>
          Leave
        </button>
      </div>
    </form>
  )
}
