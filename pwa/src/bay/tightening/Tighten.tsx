import type { EngineType, Job } from '../../store/index.ts'
import { tightening } from '../../store/index.ts'
import type { Joint } from '../../trade/engine/parts.ts'
import { sheetFor } from '../../trade/tightening/known.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { Strip } from '../frame/Strip.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { open } from '../frame/route.ts'
import { jointAt, nameOf, standsWords, targetWords } from './runWords.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { type Run, useRuns } from './useRuns.ts'
import { clockTime } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import './run.css'
import './sheets.css'

/** What can be tightened here: runs that are open on the job first, then the sheets of the joint in hand, or a single bolt. */
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
      title={say('tighten.title', { place: joint?.name ?? nameOfPlace(job, at.place) })}
      job={job}
      acts={
        <>
          <BackAct />
          <Act name={say('tighten.one_bolt')} main={!joint} onAct={() => open('bolt', job.id)} />
        </>
      }
    >
      {!type && <p>{say('tighten.no_type')}</p>}
      {going.length > 0 && <h2>{say('tighten.open')}</h2>}
      {going.length > 0 && <ul class="stack procedures">{going.map((run) => <RunRow key={run.id} job={job} run={run} />)}</ul>}
      {joints.length > 0 && (
        <Strip
          name={say('tighten.joint')}
          kind="inset"
          items={joints.map(({ code, name }) => ({ value: code, words: name }))}
          chosen={joint?.code ?? ''}
          onChoose={(code) => goTo(job, `${code}/${joints.find((listed) => listed.code === code)!.fasteners[0]!.label}`)}
        />
      )}
      {type && joint && <Sheets job={job} type={type} joint={joint} />}
      {type && !joint && joints.length > 0 && <p class="soft">{say('tighten.choose_joint')}</p>}
      {closed.length > 0 && (
        <details class="place-group">
          <summary>{say('tighten.closed', { count: closed.length })}</summary>
          <ul class="stack procedures is-near">{closed.map((run) => <RunRow key={run.id} job={job} run={run} />)}</ul>
        </details>
      )}
    </Screen>
  )
}

function RunRow({ job, run }: { job: Job; run: Run }) {
  const { state } = run
  const stands = run.sheet.id ? standsWords(state) : say('tighten.sheet_not_here')
  const by = state.begun && say('tighten.begun_by', { name: nameOf(state.begun.by), time: clockTime(state.begun.at) })
  return (
    <li>
      <button type="button" class="run-row" onClick={() => open('run', job.id, run.id)}>
        <strong>
          {state.direction === 'loosen' ? say('tighten.loosen_joint', { joint: run.name }) : say('tighten.tighten_joint', { joint: run.name })}
        </strong>
        <span class="small light close-set">{[stands, by].filter(Boolean).join(', ')}</span>
      </button>
    </li>
  )
}

function Sheets({ job, type, joint }: { job: Job; type: EngineType; joint: Joint }) {
  const ways = (['tighten', 'loosen'] as const).map((direction) => ({ direction, sheet: sheetFor(tightening.value, type.id, joint.code, direction)?.data ?? null }))
  if (ways.every(({ sheet }) => !sheet)) {
    return <p>{say('tighten.no_sheet', { joint: joint.name })}</p>
  }
  return (
    <ul class="stack procedures" aria-label={say('tighten.sheets_of', { joint: joint.name })}>
      {ways.map(
        ({ direction, sheet }) =>
          sheet && (
            <li key={direction}>
              <button type="button" class="run-row" onClick={() => open('begin', job.id, `${direction}/${joint.code}`)}>
                <strong>
                  {direction === 'loosen' ? say('tighten.loosen_by', { sheet: sheet.name }) : say('tighten.tighten_by', { sheet: sheet.name })}
                </strong>
                <span class="small light close-set">{direction === 'loosen' && sheet.stages.some(({ method }) => method !== 'release') ? say('tighten.reverse') : sheet.stages.map(targetWords).join(' → ')}</span>
              </button>
            </li>
          ),
      )}
    </ul>
  )
}
