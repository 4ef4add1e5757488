import type { EngineType, Job } from '../../store/index.ts'
import { tightening } from '../../store/index.ts'
import type { Joint } from '../../trade/engine/parts.ts'
import { sheetFor } from '../../trade/tightening/known.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { Strip } from '../frame/Strip.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { open } from '../frame/route.ts'
import { nameOf } from './runWords.ts'
import { jointAt, standsWords, targetWords } from './runWords.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { type Run, useRuns } from './useRuns.ts'
import { clockTime, count } from '../frame/words.ts'

const DIRECTIONS = { tighten: 'Tighten', loosen: 'Loosen' } as const

/** What can be tightened here: runs that are open on the job first, then the sheets of the joint in hand, or one bolt. */
export function Tighten({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const runs = useRuns(job, type) ?? []
  const joints = ((type?.joints as Joint[] | undefined) ?? []).filter((joint) => joint.fasteners.length > 0)
  const joint = type && at.place ? jointAt(type as never, at.place) : null
  const going = runs.filter((run) => !run.state.closed)
  const closed = runs.filter((run) => run.state.closed)
  return (
    <Screen
      title={`Torque, ${joint?.name ?? nameOfPlace(job, at.place)}`}
      job={job}
      acts={
        <>
          <BackAct />
          <Act name="One bolt" main={!joint} onAct={() => open('bolt', job.id)} />
        </>
      }
    >
      {!type && <p>The engine type of this job has not reached this phone, so its joints are not known. Single bolts can be recorded all the same.</p>}
      {going.length > 0 && <h2>Open on this job</h2>}
      {going.length > 0 && <ul class="procedures">{going.map((run) => <RunRow key={run.id} job={job} run={run} />)}</ul>}
      {joints.length > 0 && (
        <Strip
          name="Joint"
          kind="inset"
          items={joints.map((one) => ({ value: one.code, words: one.name }))}
          chosen={joint?.code ?? ''}
          onChoose={(code) => goTo(job, `${code}/${joints.find((one) => one.code === code)!.fasteners[0]!.label}`)}
        />
      )}
      {type && joint && <Sheets job={job} type={type} joint={joint} />}
      {type && !joint && joints.length > 0 && <p class="soft">Choose the joint.</p>}
      {closed.length > 0 && (
        <details class="place-group">
          <summary>Closed: {count(closed.length, 'sheet')}</summary>
          <ul class="procedures is-near">{closed.map((run) => <RunRow key={run.id} job={job} run={run} />)}</ul>
        </details>
      )}
    </Screen>
  )
}

function RunRow({ job, run }: { job: Job; run: Run }) {
  const { state } = run
  const by = state.begun ? `, begun by ${nameOf(state.begun.by)} at ${clockTime(state.begun.at)}` : ''
  return (
    <li>
      <button type="button" class="run-row" onClick={() => open('run', job.id, run.id)}>
        <strong>
          {state.direction === 'loosen' ? 'Loosen' : 'Tighten'}: {run.name}
        </strong>
        <span class="small">
          {run.sheet.id ? standsWords(state) : 'its sheet has not reached this phone'}
          {by}
        </span>
      </button>
    </li>
  )
}

function Sheets({ job, type, joint }: { job: Job; type: EngineType; joint: Joint }) {
  const ways = (['tighten', 'loosen'] as const).map((direction) => ({ direction, sheet: sheetFor(tightening.value, type.id, joint.code, direction)?.what ?? null }))
  if (ways.every((one) => !one.sheet)) {
    return <p>No tightening sheet for {joint.name} has reached this phone. It is described in the office; until then record each bolt by itself.</p>
  }
  return (
    <ul class="procedures" aria-label={`Sheets of ${joint.name}`}>
      {ways.map(
        ({ direction, sheet }) =>
          sheet && (
            <li key={direction}>
              <button type="button" class="run-row" onClick={() => open('begin', job.id, `${direction}/${joint.code}`)}>
                <strong>
                  {DIRECTIONS[direction]} by the sheet “{sheet.name}”
                </strong>
                <span class="small">{direction === 'loosen' && sheet.stages.some((one) => one.method !== 'release') ? 'in reverse of its last stage' : sheet.stages.map(targetWords).join(', then ')}</span>
              </button>
            </li>
          ),
      )}
    </ul>
  )
}
