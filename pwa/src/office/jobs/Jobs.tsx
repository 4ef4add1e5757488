import { PageHead } from '../frame/PageHead.tsx'
import { useEffect, useRef, useState } from 'preact/hooks'
import { get, query, ApiError } from '../frame/api.ts'
import { EmptyNotice, FaultNotice } from '../frame/notices.tsx'
import { STAGES, stageWords } from '../frame/stages.ts'
import { address, go, route, set } from '../frame/route.ts'
import type { JobLine, Jobs as Register } from '../frame/shapes.ts'
import { dayAndClock, figure, visit } from '../frame/words.ts'
import { NewJob } from './NewJob.tsx'
import { useRows } from './useRows.ts'
import { say } from '../frame/say.ts'

const PAGE = 40

/** All jobs, one line each, newest first. */
export function Jobs() {
  const { stage = '', find = '' } = route.value.values
  const [register, setRegister] = useState<Register | null>(null)
  const [fault, setFault] = useState('')
  const [adding, setAdding] = useState(false)
  // Answers that are overtaken by a newer question are dropped.
  const newest = useRef(0)

  const load = async (before?: string | number) => {
    const turn = (newest.current += 1)
    try {
      const page = await get<Register>(`/api/jobs${query({ q: find, stage, before, limit: PAGE })}`)
      if (newest.current !== turn) return
      setRegister((shown) => (before && shown ? { jobs: [...shown.jobs, ...page.jobs], next: page.next } : page))
      setFault('')
    } catch (reason) {
      if (reason instanceof ApiError) setFault(reason.message)
    }
  }
  useEffect(() => void load(), [stage, find])

  const jobs = register?.jobs ?? []
  const { at, list } = useRows(jobs.length, (index) => go(['job', jobs[index]!.id]), { n: () => setAdding(true) })
  return (
    <section class="page register-page" aria-labelledby="jobs-title">
      <PageHead
        id="jobs-title"
        title={say('jobs.title')}
        acts={
          <>
            <button type="button" class="main-act" onClick={() => setAdding(true)}>
              {say('jobs.new_job')}
            </button>
          </>
        }
      >
        <Filters stage={stage} find={find} />
      </PageHead>
      <FaultNotice>{fault}</FaultNotice>
      {register && jobs.length === 0 ? <Nothing stage={stage} find={find} /> : null}
      {jobs.length > 0 && <Lines jobs={jobs} at={at} list={list} />}
      {register?.next != null && (
        <button type="button" class="more" onClick={() => load(register.next!)}>
          {say('jobs.earlier_jobs')}
        </button>
      )}
      {adding && <NewJob close={() => setAdding(false)} />}
    </section>
  )
}

function Nothing({ stage, find }: { stage: string; find: string }) {
  return <EmptyNotice>{nothingWords(stage && stageWords(stage), find)}</EmptyNotice>
}

function nothingWords(stage: string, words: string): string {
  if (stage && words) return say('jobs.none_at_stage_with', { stage, words })
  if (stage) return say('jobs.none_at_stage', { stage })
  return words ? say('jobs.none_with', { words }) : say('jobs.none_yet')
}

function Filters({ stage, find }: { stage: string; find: string }) {
  const pause = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  return (
    <div class="narrow wraps">
      <label>
        <span>{say('jobs.filter_words')}</span>
        <input
          type="search"
          value={find}
          onInput={(event) => {
            const words = event.currentTarget.value
            clearTimeout(pause.current)
            pause.current = setTimeout(() => set({ find: words.trim() || undefined }, true), 200)
          }}
        />
      </label>
      <label>
        <span>{say('jobs.stage')}</span>
        <select value={stage} onChange={(event) => set({ stage: event.currentTarget.value || undefined }, true)}>
          <option value="">{say('record.every_stage')}</option>
          {STAGES.map(({ code, words }) => (
            <option key={code} value={code}>
              {words}
            </option>
          ))}
        </select>
      </label>
    </div>
  )
}

interface LinesProps {
  jobs: JobLine[]
  at: number
  list: { current: HTMLElement | null }
}

function Lines({ jobs, at, list }: LinesProps) {
  return (
    <table class="register whole thick-over" ref={(table) => void (list.current = table)}>
      <caption class="unseen">{say('jobs.caption')}</caption>
      <thead>
        <tr>
          <th scope="col">{say('jobs.job')}</th>
          <th scope="col">{say('jobs.vehicle')}</th>
          <th scope="col">{say('jobs.engine')}</th>
          <th scope="col">{say('jobs.stage')}</th>
          <th scope="col" class="right">
            {say('jobs.records')}
          </th>
          <th scope="col" class="right">
            {say('jobs.pictures')}
          </th>
          <th scope="col">{say('jobs.last_record')}</th>
        </tr>
      </thead>
      <tbody>
        {jobs.map((job, index) => (
          <Line key={job.id} job={job} chosen={index === at} />
        ))}
      </tbody>
    </table>
  )
}

function Line({ job, chosen }: { job: JobLine; chosen: boolean }) {
  return (
    <tr data-at={chosen} onClick={(event) => (event.target as HTMLElement).closest('a') || go(['job', job.id])}>
      <th scope="row">
        <a href={address(['job', job.id])} aria-label={say('jobs.line', { number: job.number, vehicle: job.vehicle })}>
          {job.number}
        </a>
      </th>
      <td data-name="vehicle">
        <b>{job.vehicle || say('jobs.no_vehicle')}</b> <span class="figure">{job.registration}</span>
        {job.complaint && <span class="register-complaint own-line soft">{job.complaint}</span>}
      </td>
      <td data-name="engine">
        {job.engine_type_name || say('jobs.no_type')} <span class="figure">{job.engine_number}</span>
        {job.earlier_visits > 0 && <span class="register-visit own-line soft">{visit(job.earlier_visits)}</span>}
      </td>
      <td data-name="stage">
        <span class="stage-tag">{stageWords(job.stage)}</span>
      </td>
      <td data-name="records" data-word={say('jobs.record_word', { count: job.entries })} class="right figure">
        {figure(job.entries)}
      </td>
      <td data-name="pictures" data-word={say('jobs.picture_word', { count: job.pictures })} class="right figure">
        {figure(job.pictures)}
        {job.missing_media > 0 && <span class="register-missing own-line soft">{say('jobs.files_missing', { count: job.missing_media })}</span>}
      </td>
      <td data-name="last record">{job.last ? dayAndClock(job.last) : say('jobs.no_record')}</td>
    </tr>
  )
}
