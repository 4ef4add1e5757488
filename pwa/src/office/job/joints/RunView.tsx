import { count } from '../../frame/words.ts'
import { dateWords } from '../../registers/measuring/dates.ts'
import { job } from '../record/state.ts'
import { day, listed, shortClock } from '../../frame/words.ts'
import { PreloadView } from '../../registers/tightening/PreloadView.tsx'
import { boltsWords } from '../../../trade/tightening/words.ts'
import { useAsk } from '../../frame/useAsk.ts'
import { boltWords, threadWords } from '../../registers/tightening/wording.ts'
import { Departures } from './Departures.tsx'
import { nameIn, type JobRun } from './shapes.ts'
import { SignOff } from './SignOff.tsx'
import { PlanKey } from './PlanKey.tsx'
import { ExhibitLink, StageColumn } from './StageColumn.tsx'

interface Props {
  job: string
  run: JobRun
  title: string
  again: () => void
}

/** One run: what it went by, its stages side by side, departures, sign-off, and the estimate of preload. */
export function RunView({ job: id, run, title, again }: Props) {
  const fasteners = job.value?.engine_type_data?.joints.find(({ code }) => code === run.joint)?.fasteners ?? []
  return (
    <>
      <header class="figures-head">
        <h1 id="run-title">{title}</h1>
        <span class={`run-state${run.closed ? '' : ' is-open'}`}>{stateWords(run)}</span>
        <div class="figures-acts">
          <button type="button" class="plain" onClick={() => print()} aria-keyshortcuts="p">
            Print
          </button>
        </div>
      </header>
      <Head job={id} run={run} />
      <PlanKey />
      <ol class="stage-columns" aria-label="Stages" style={{ '--stages': String(run.stages.length) }}>
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
      <div class="figures-foot">
        <Departures job={id} run={run} again={again} />
        <div>
          <SignOff job={id} run={run} again={again} />
          <Aside job={id} run={run} />
          {run.preload && run.direction === 'tighten' && <PreloadView estimate={run.preload} />}
        </div>
      </div>
    </>
  )
}

function stateWords(run: JobRun): string {
  const open = run.departures.filter(({ answered }) => !answered).length
  if (open) return `${run.closed ? 'closed, ' : ''}${count(open, 'departure')} to be answered`
  if (run.closed) return 'closed'
  return run.may_close ? 'may be closed' : 'not closed'
}

/** What the run went by: sheet, bolts, tools, who and when. */
function Head({ job: id, run }: { job: string; run: JobRun }) {
  const { sheet } = run
  const register = useAsk<{ tools: { id: string; name: string; serial: string; due: string }[] }>('/api/torque-tools').told?.tools ?? []
  const people = run.people.map(({ name }) => name)
  const used = new Set(run.stages.flatMap(({ done, earlier }) => [...done, ...earlier.flat()]).map(({ tool_id }) => tool_id))
  const tools = register.filter((tool) => used.has(tool.id))
  const overdue = run.departures.filter(({ sort }) => sort === 'overdue_tool')
  return (
    <dl class="sheet-head-lines">
      <div>
        <dt>sheet</dt>
        <dd>
          {sheet ? (
            <>
              {sheet.name} <span class="limit-source">{sheet.source}</span>
            </>
          ) : (
            'nobody described the sheet it names'
          )}
        </dd>
      </div>
      {sheet && (
        <div>
          <dt>bolts</dt>
          <dd>
            {threadWords(sheet)}. {boltWords(sheet)} {run.bolts && <b>{boltsWords(run.bolts, run.use)}.</b>}
          </dd>
        </div>
      )}
      <div>
        <dt>tools</dt>
        <dd>
          {tools.map((tool) => (
            <span key={tool.id} class="gauge-used">
              {tool.name}
              {tool.serial && `, ${tool.serial}`}
              {tool.due && `, due ${dateWords(tool.due)}`}
            </span>
          ))}
          {!tools.length && 'none of the register was named'}
        </dd>
      </div>
      {overdue.map(({ key, words }) => (
        <div key={key} class="is-overdue">
          <dt>overdue</dt>
          <dd>{words} It stays said, whatever a later calibration finds.</dd>
        </div>
      ))}
      <div>
        <dt>begun</dt>
        <dd>
          {run.begun ? (
            <span>
              {day(run.begun.at)} <span class="figure">{shortClock(run.begun.at)}</span> by {nameIn(run, run.begun.by)}{' '}
              <ExhibitLink job={id} entry={run.begun.entry} run={run} />
              {people.length > 1 && <>; hands on it: {listed(people)}</>}
            </span>
          ) : (
            'the run has no beginning'
          )}
        </dd>
      </div>
    </dl>
  )
}

/** What was taken back, and what the sheet knows nothing of. */
function Aside({ job: id, run }: { job: string; run: JobRun }) {
  if (!run.withdrawn.length && !run.strays.length) return null
  return (
    <section class="run-aside" aria-labelledby="aside-title">
      <h2 id="aside-title">Taken back, or not on the sheet</h2>
      <ul class="visits">
        {run.withdrawn.map((one) => (
          <li key={one.entry}>
            {one.label ? `Fastener ${one.label}, stage ${one.stage}` : one.kind.replaceAll('_', ' ')}, taken back{' '}
            <ExhibitLink job={id} entry={one.entry} run={run} />
          </li>
        ))}
        {run.strays.map((one) => (
          <li key={one.entry}>
            Fastener {one.label}, which the sheet does not ask for there <ExhibitLink job={id} entry={one.entry} run={run} />
          </li>
        ))}
      </ul>
    </section>
  )
}
