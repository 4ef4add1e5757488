import { PageHead } from '../frame/PageHead.tsx'
import { useEffect, useRef, useState } from 'preact/hooks'
import { get, query, ApiError } from '../frame/api.ts'
import { Empty, Fault } from '../frame/Say.tsx'
import { STAGES, stageWords } from '../frame/stages.ts'
import { address, go, route, set } from '../frame/route.ts'
import type { JobLine, Jobs as Register } from '../frame/shapes.ts'
import { count, dayAndClock, figure, visit } from '../frame/words.ts'
import { NewJob } from './NewJob.tsx'
import { useRows } from './useRows.ts'

const PAGE = 40

/** All jobs as the register of a drawing office: one line each, newest first. */
export function Jobs() {
  const { stage = '', find = '' } = route.value.values
  const [register, setRegister] = useState<Register | null>(null)
  const [fault, setFault] = useState('')
  const [making, setMaking] = useState(false)
  const asking = useRef(0)

  const load = async (before?: string | number) => {
    const turn = (asking.current += 1)
    try {
      const told = await get<Register>(`/api/jobs${query({ q: find, stage, before, limit: PAGE })}`)
      if (asking.current !== turn) return
      setRegister((had) => (before && had ? { jobs: [...had.jobs, ...told.jobs], next: told.next } : told))
      setFault('')
    } catch (reason) {
      if (reason instanceof ApiError) setFault(reason.message)
    }
  }
  useEffect(() => void load(), [stage, find])

  const jobs = register?.jobs ?? []
  const { at, list } = useRows(jobs.length, (index) => go(['job', jobs[index]!.id]), { n: () => setMaking(true) })
  return (
    <section class="page register-page" aria-labelledby="jobs-title">
      <PageHead
        id="jobs-title"
        title="Jobs"
        acts={
          <>
            <button type="button" class="main-act" onClick={() => setMaking(true)}>
              New job
            </button>
          </>
        }
      >
        <Narrow stage={stage} find={find} />
      </PageHead>
      <Fault>{fault}</Fault>
      {register && jobs.length === 0 ? <Nothing stage={stage} find={find} /> : null}
      {jobs.length > 0 && <Lines jobs={jobs} at={at} list={list} />}
      {register?.next != null && (
        <button type="button" class="more" onClick={() => load(register.next!)}>
          Earlier jobs
        </button>
      )}
      {making && <NewJob close={() => setMaking(false)} />}
    </section>
  )
}

function Nothing({ stage, find }: { stage: string; find: string }) {
  if (!stage && !find) return <Empty>No job yet. Open the first one here, or on a phone in the bay.</Empty>
  return (
    <Empty>
      No job {stage && `at ‘${stageWords(stage)}’`} {find && `with ‘${find}’ in its facts`}. Words inside records are
      found with the search box above.
    </Empty>
  )
}

function Narrow({ stage, find }: { stage: string; find: string }) {
  const pause = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  return (
    <div class="narrow">
      <label>
        <span>number, vehicle, engine</span>
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
        <span>stage</span>
        <select value={stage} onChange={(event) => set({ stage: event.currentTarget.value || undefined }, true)}>
          <option value="">every stage</option>
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
    <table class="register" ref={(table) => void (list.current = table)}>
      <caption class="unseen">Jobs, newest first</caption>
      <thead>
        <tr>
          <th scope="col">job</th>
          <th scope="col">vehicle</th>
          <th scope="col">engine</th>
          <th scope="col">stage</th>
          <th scope="col" class="right">
            records
          </th>
          <th scope="col" class="right">
            pictures
          </th>
          <th scope="col">last record</th>
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
        <a href={address(['job', job.id])} aria-label={`Job ${job.number}, ${job.vehicle}`}>
          {job.number}
        </a>
      </th>
      <td data-name="vehicle">
        <b>{job.vehicle || 'vehicle not given'}</b> <span class="figure">{job.registration}</span>
        {job.complaint && <span class="register-complaint">{job.complaint}</span>}
      </td>
      <td data-name="engine">
        {job.engine_type_name || 'type not given'} <span class="figure">{job.engine_number}</span>
        {job.earlier_visits > 0 && <span class="register-visit">{visit(job.earlier_visits)}</span>}
      </td>
      <td data-name="stage">
        <span class="stage-tag">{stageWords(job.stage)}</span>
      </td>
      <td data-name="records" data-word={job.entries === 1 ? 'record' : 'records'} class="right figure">
        {figure(job.entries)}
      </td>
      <td data-name="pictures" data-word={job.pictures === 1 ? 'picture' : 'pictures'} class="right figure">
        {figure(job.pictures)}
        {job.missing_media > 0 && <span class="register-missing">{count(job.missing_media, 'file')} not here yet</span>}
      </td>
      <td data-name="last record">{job.last ? dayAndClock(job.last) : 'none yet'}</td>
    </tr>
  )
}
