import { useState } from 'preact/hooks'
import type { Fastener } from '../../../trade/engine/parts.ts'
import type { Departure, StageTold } from '../../../trade/tightening/run.ts'
import { SORTS } from '../../../trade/tightening/departures.ts'
import { address } from '../../frame/route.ts'
import { JointPlan } from '../../registers/tightening/JointPlan.tsx'
import { methodWords, targetWords } from '../../registers/tightening/wording.ts'
import { count, day, moment } from '../../frame/words.ts'
import { marksOf, rowsOf, same, valueWords, wayOf, type Row } from './done.ts'
import { nameIn, type JobRun } from './shapes.ts'

interface Props {
  job: string
  stage: StageTold
  number: number
  fasteners: Fastener[]
  departures: Departure[]
  pace: string
  run: JobRun
}

/** One stage as it was carried out: the joint with order asked and order done, then every fastener in the order done. */
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
        {stage.after && <span class="stage-after">{stage.after}</span>}
      </p>
      {stage.proposed && <p class="caution">The order was only proposed.</p>}
      <JointPlan
        fasteners={fasteners}
        title={`${stage.words}, as carried out`}
        marks={marksOf(stage, departures)}
        path={wayOf(stage)}
        chosen={at}
        choose={(label) => setAt(label === at ? '' : label)}
      />
      <p class="stage-facts">
        {pace || 'Nothing done yet.'} <ByWhat rows={rows} run={run} />
        {stage.restarted > 0 && <> Begun again {stage.restarted === 1 ? 'once' : `${stage.restarted} times`}.</>}
      </p>
      {rows.length > 0 && <Rows job={job} rows={rows} run={run} words={stage.words} at={at} />}
      {stage.missing.length > 0 && (
        <p class="caution">
          {stage.skipped.length ? 'Left out' : 'Not done'}: {stage.missing.join(', ')}.
        </p>
      )}
      {stage.earlier.map((done, i) => (
        <details key={i} class="stage-earlier">
          <summary>
            Before restart {i + 1}: {count(done.length, 'fastener')}
          </summary>
          <Rows job={job} rows={rowsOf({ ...stage, done }, [])} run={run} words={`${stage.words}, before restart ${i + 1}`} />
        </details>
      ))}
    </li>
  )
}

/** Tool and person where one did it all; the day once. */
function ByWhat({ rows, run }: { rows: Row[]; run: JobRun }) {
  if (!rows.length) return null
  const [tool, by] = [same(rows, 'tool'), same(rows, 'by')]
  return (
    <>
      {day(rows[0]!.at)}
      {tool !== null && <>, {tool || 'no tool named'}</>}
      {by !== null && <>, {nameIn(run, by)}</>}.
    </>
  )
}

function Rows({ job, rows, run, words, at = '' }: { job: string; rows: Row[]; run: JobRun; words: string; at?: string }) {
  const [tool, by] = [same(rows, 'tool'), same(rows, 'by')]
  return (
    <div class="wide-table" tabIndex={0} role="group" aria-label={`${words}, fasteners`}>
      <table class="run-table" aria-label={`${words}, in the order done`}>
        <thead>
          <tr>
            <th scope="col">asked</th>
            <th scope="col">done</th>
            <th scope="col">bolt</th>
            <th scope="col">value</th>
            <th scope="col">time</th>
            {by === null && <th scope="col">by</th>}
            <th scope="col">
              <span class="unseen">exhibit</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.entry} class={row.departures.length ? 'is-apart' : ''} data-at={row.label === at}>
              <td class="figure">{row.asked || '–'}</td>
              <td class="figure">{row.number ? row.number === row.asked ? row.number : <b>{row.number}</b> : 'again'}</td>
              <th scope="row" class="figure">
                {row.label}
              </th>
              <td class="figure">
                <span class="row-value">
                  {valueWords(row)} <span class="row-given">{row.given}</span>
                </span>
                {tool === null && <span class="row-said">{row.tool || 'no tool named'}</span>}
                {row.set_value && <span class="row-said">set to {row.set_value}</span>}
                {row.departures.map((one) => (
                  <span key={one.key} class={`row-said${one.answered ? '' : ' caution'}`}>
                    {SORTS[one.sort]}
                  </span>
                ))}
                {row.remark && <span class="row-said">{row.remark}</span>}
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

/** The number of an exhibit, leading to it. */
export function ExhibitLink({ job, entry, run }: { job: string; entry: string; run: JobRun }) {
  const number = run.exhibits[entry]
  if (!number) return null
  return (
    <a class="exhibit-number" href={address(['job', job], { exhibit: number })} aria-label={`exhibit ${number}`}>
      {number}
    </a>
  )
}
