import { dateWords } from '../../registers/measuring/dates.ts'
import { kindWords } from '../record/kinds.ts'
import { job } from '../record/state.ts'
import { day, shortClock } from '../../frame/words.ts'
import { PreloadView } from '../../registers/tightening/PreloadView.tsx'
import { listed } from '../../../trade/ground/sentences.ts'
import { boltsWords } from '../../../trade/tightening/words.ts'
import { useGet } from '../../frame/useGet.ts'
import { boltWords, threadWords } from '../../registers/tightening/wording.ts'
import { Departures } from './Departures.tsx'
import { nameIn, type JobRun } from './shapes.ts'
import type { Tools } from '../../registers/tightening/shapes.ts'
import { SignOff } from './SignOff.tsx'
import { PlanKey } from './PlanKey.tsx'
import { ExhibitLink, StageColumn } from './StageColumn.tsx'
import { say } from '../../frame/say.ts'

interface Props {
  job: string
  run: JobRun
  title: string
  reload: () => void
}

/** One run: its tightening sheet, its stages side by side, deviations, sign-off, and the estimate of preload. */
export function RunView({ job: id, run, title, reload }: Props) {
  const fasteners = job.value?.engine_type_data?.joints.find(({ code }) => code === run.joint)?.fasteners ?? []
  return (
    <>
      <header class="figures-head along wrapped below-4">
        <h1 class="headline" id="run-title">{title}</h1>
        <span class={`bold framed run-state${run.closed ? '' : ' is-open'}`}>{stateWords(run)}</span>
        <div class="figures-acts along">
          <button type="button" class="plain" onClick={() => print()} aria-keyshortcuts="p">
            {say('joints.print')}
          </button>
        </div>
      </header>
      <Head job={id} run={run} />
      <PlanKey />
      <ol class="stage-columns thick-over" aria-label={say('joints.stages')} style={{ '--stages': String(run.stages.length) }}>
        {run.stages.map((stage, i) => (
          <StageColumn
            key={stage.code}
            job={id}
            stage={stage}
            number={i + 1}
            fasteners={fasteners}
            departures={run.departures}
            run={run}
            pace={run.pace.find(({ stage: code }) => code === stage.code)?.words ?? ''}
          />
        ))}
      </ol>
      <div class="figures-foot in-grid above-6">
        <Departures job={id} run={run} reload={reload} />
        <div>
          <SignOff job={id} run={run} reload={reload} />
          <Aside job={id} run={run} />
          {run.preload && run.direction === 'tighten' && <PreloadView estimate={run.preload} />}
        </div>
      </div>
    </>
  )
}

function stateWords(run: JobRun): string {
  const open = run.departures.filter(({ answered }) => !answered).length
  if (open) return run.closed ? say('joints.closed_open', { count: open }) : say('joints.state_open', { count: open })
  if (run.closed) return say('joints.closed')
  return run.may_close ? say('joints.may_close') : say('joints.not_closed')
}

/** The run at a glance: tightening sheet, bolts, tools, who and when. */
function Head({ job: id, run }: { job: string; run: JobRun }) {
  const { sheet } = run
  return (
    <dl class="sheet-head-lines rest">
      <div>
        <dt>{say('joints.head_sheet')}</dt>
        <dd>
          {sheet ? (
            <>
              {sheet.name} <span class="limit-source">{sheet.source}</span>
            </>
          ) : (
            say('joints.sheet_missing')
          )}
        </dd>
      </div>
      {sheet && (
        <div>
          <dt>{say('joints.head_bolts')}</dt>
          <dd>
            {threadWords(sheet)}. {boltWords(sheet)} {run.bolts && <b>{boltsWords(run.bolts, run.use)}.</b>}
          </dd>
        </div>
      )}
      <Tools run={run} />
      <div>
        <dt>{say('joints.head_begun')}</dt>
        <dd>
          <Begun job={id} run={run} />
        </dd>
      </div>
    </dl>
  )
}

/** The tools of the register that were used, and those that were overdue for calibration. */
function Tools({ run }: { run: JobRun }) {
  const register = useGet<{ tools: { id: string; name: string; serial: string; due: string }[] }>('/api/torque-tools').data?.tools ?? []
  const used = new Set(run.stages.flatMap(({ done, earlier }) => [...done, ...earlier.flat()]).map(({ tool_id }) => tool_id))
  const tools = register.filter((tool) => used.has(tool.id))
  const overdue = run.departures.filter(({ sort }) => sort === 'overdue_tool')
  return (
    <>
      <div>
        <dt>{say('joints.head_tools')}</dt>
        <dd>
          {tools.map((tool) => (
            <span key={tool.id} class="gauge-used">
              {[tool.name, tool.serial, tool.due && say('joints.due', { date: dateWords(tool.due) })].filter(Boolean).join(', ')}
            </span>
          ))}
          {!tools.length && say('joints.no_tool_of_register')}
        </dd>
      </div>
      {overdue.map(({ key, words }) => (
        <div key={key} class="is-overdue">
          <dt>{say('joints.head_overdue')}</dt>
          <dd>
            {words} {say('joints.overdue_stays')}
          </dd>
        </div>
      ))}
    </>
  )
}

/** When the run was begun and by whom, and everybody who worked on it. */
function Begun({ job: id, run }: { job: string; run: JobRun }) {
  if (!run.begun) return <>{say('joints.no_beginning')}</>
  const people = run.people.map(({ name }) => name)
  return (
    <span>
      {day(run.begun.at)} <span class="figure">{shortClock(run.begun.at)}</span> {say('joints.by', { name: nameIn(run, run.begun.by) })}{' '}
      <ExhibitLink job={id} entry={run.begun.entry} run={run} />
      {people.length > 1 && <>; {say('joints.people', { people: listed(people) })}</>}
    </span>
  )
}

/** What was withdrawn, and what the tightening sheet does not ask for. */
function Aside({ job: id, run }: { job: string; run: JobRun }) {
  if (!run.withdrawn.length && !run.strays.length) return null
  return (
    <section class="above-8" aria-labelledby="aside-title">
      <h2 id="aside-title">{say('joints.aside_title')}</h2>
      <ul class="visits">
        {run.withdrawn.map(({ entry, label, stage, kind }) => (
          <li key={entry}>
            {label ? say('joints.withdrawn_bolt', { label, stage }) : say('joints.withdrawn_record', { kind: kindWords(kind) })}{' '}
            <ExhibitLink job={id} entry={entry} run={run} />
          </li>
        ))}
        {run.strays.map(({ entry, label }) => (
          <li key={entry}>
            {say('joints.not_on_sheet', { label })} <ExhibitLink job={id} entry={entry} run={run} />
          </li>
        ))}
      </ul>
    </section>
  )
}
