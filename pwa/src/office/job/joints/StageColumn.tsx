import { useState } from 'preact/hooks'
import type { Fastener } from '../../../trade/engine/parts.ts'
import type { Departure, StageState } from '../../../trade/tightening/run.ts'
import { SORTS } from '../../../trade/tightening/departures.ts'
import { address } from '../../frame/route.ts'
import { JointPlan } from '../../registers/tightening/JointPlan.tsx'
import { methodWords, targetWords } from '../../registers/tightening/wording.ts'
import { day, moment } from '../../frame/words.ts'
import { marksOf, rowsOf, same, valueWords, wayOf, type Row } from './done.ts'
import { nameIn, type JobRun } from './shapes.ts'
import { say } from '../../frame/say.ts'

interface Props {
  job: string
  stage: StageState
  number: number
  fasteners: Fastener[]
  departures: Departure[]
  pace: string
  run: JobRun
}

/** One stage as it was carried out: the joint with the order specified and the order done, then every bolt in the order done. */
export function StageColumn({ job, stage, number, fasteners, departures, pace, run }: Props) {
  const rows = rowsOf(stage, departures)
  const [at, setAt] = useState('')
  return (
    <li class="stage-column" aria-label={stage.words}>
      <h2>
        {number}. {stage.words}
      </h2>
      <p>
        {methodWords(stage)}: <span class="figure">{targetWords(stage)}</span>
        {stage.after && <span class="caution own-line">{stage.after}</span>}
      </p>
      {stage.proposed && <p class="caution">{say('joints.order_proposed')}</p>}
      <JointPlan
        fasteners={fasteners}
        title={say('joints.plan_title', { stage: stage.words })}
        marks={marksOf(stage, departures)}
        path={wayOf(stage)}
        chosen={at}
        choose={(label) => setAt(label === at ? '' : label)}
      />
      <p class="below-4">
        {pace || say('joints.nothing_done')} <DoneWith rows={rows} run={run} />
        {stage.restarted > 0 && ` ${say('joints.restarts', { count: stage.restarted })}`}
      </p>
      {rows.length > 0 && <Rows job={job} rows={rows} run={run} words={stage.words} at={at} />}
      {stage.missing.length > 0 && (
        <p class="caution">
          {stage.skipped.length ? say('joints.skipped_bolts', { bolts: stage.missing.join(', ') }) : say('joints.bolts_not_done', { bolts: stage.missing.join(', ') })}
        </p>
      )}
      {stage.earlier.map((done, i) => (
        <details key={i} class="stage-earlier">
          <summary>
            {say('joints.before_restart', { number: i + 1, count: done.length })}
          </summary>
          <Rows job={job} rows={rowsOf({ ...stage, done }, [])} run={run} words={say('joints.stage_before_restart', { stage: stage.words, number: i + 1 })} />
        </details>
      ))}
    </li>
  )
}

/** The day; tool and person where all bolts have the same. */
function DoneWith({ rows, run }: { rows: Row[]; run: JobRun }) {
  if (!rows.length) return null
  const [tool, by] = [same(rows, 'tool'), same(rows, 'by')]
  return (
    <>
      {day(rows[0]!.at)}
      {tool !== null && <>, {tool || say('joints.no_tool')}</>}
      {by !== null && <>, {nameIn(run, by)}</>}.
    </>
  )
}

/** The bolts of a stage in the order they were done. */
function Rows({ job, rows, run, words, at = '' }: { job: string; rows: Row[]; run: JobRun; words: string; at?: string }) {
  const [tool, by] = [same(rows, 'tool'), same(rows, 'by')]
  return (
    <div class="wide-table" tabIndex={0} role="group" aria-label={say('joints.bolts_of', { stage: words })}>
      <table class="table is-named run-table" aria-label={say('joints.bolts_in_order', { stage: words })}>
        <thead>
          <tr>
            <th scope="col">{say('joints.column_specified')}</th>
            <th scope="col">{say('joints.column_done')}</th>
            <th scope="col">{say('joints.column_bolt')}</th>
            <th scope="col">{say('joints.column_value')}</th>
            <th scope="col">{say('joints.column_time')}</th>
            {by === null && <th scope="col">{say('joints.column_by')}</th>}
            <th scope="col">
              <span class="unseen">{say('joints.column_record')}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.entry} class={row.departures.length ? 'is-apart' : ''} data-at={row.label === at}>
              <td class="figure">{row.asked || '–'}</td>
              <td class="figure">{row.number ? row.number === row.asked ? row.number : <b>{row.number}</b> : say('joints.again')}</td>
              <th scope="row" class="figure">
                {row.label}
              </th>
              <td class="figure">
                <span class="one-line">
                  {valueWords(row)} <span class="row-given soft">{row.given === 'tap' ? say('joints.given_signalled') : say('record.value_typed')}</span>
                </span>
                {tool === null && <span class="row-said own-line small">{row.tool || say('joints.no_tool')}</span>}
                {row.set_value && <span class="row-said own-line small">{say('joints.set_to', { value: row.set_value })}</span>}
                {row.departures.map(({ key, sort, answered }) => (
                  <span key={key} class={`row-said own-line small${answered ? '' : ' caution'}`}>
                    {SORTS[sort]}
                  </span>
                ))}
                {row.remark && <span class="row-said own-line small">{row.remark}</span>}
              </td>
              <td class="figure">{moment(row.at)?.clock ?? row.at}</td>
              {by === null && <td>{nameIn(run, row.by)}</td>}
              <td>
                <ExhibitLink job={job} entry={row.entry} run={run} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** The number of a record, leading to it. */
export function ExhibitLink({ job, entry, run }: { job: string; entry: string; run: JobRun }) {
  const number = run.exhibits[entry]
  if (!number) return null
  return (
    <a class="exhibit-number" href={address(['job', job], { exhibit: number })} aria-label={say('joints.record', { number })}>
      {number}
    </a>
  )
}
