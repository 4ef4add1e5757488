import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { PrintFrame } from '../figures/PrintFrame.tsx'
import { useKeys } from '../../frame/keys.ts'
import { job, jobTrouble } from '../record/state.ts'
import { address, go, route, set } from '../../frame/route.ts'
import { RunView } from './RunView.tsx'
import type { JobRun, JobRuns } from './shapes.ts'

/** The joints of a job, each run as it was carried out. */
export function Joints({ job: id }: { job: string }) {
  const { told, trouble, again } = useAsk<JobRuns>(`/api/jobs/${id}/tightening`)
  const runs = told?.runs ?? []
  const run = runs.find((one) => one.run === route.value.values['run']) ?? runs[0]
  const turnTo = (by: number) => {
    const next = run && runs[(runs.indexOf(run) + by + runs.length) % runs.length]
    if (next) set({ run: next.run }, true)
  }
  useKeys({
    '[': () => turnTo(-1),
    ']': () => turnTo(1),
    p: () => print(),
    r: () => go(['job', id]),
  })
  if (jobTrouble.value) return <Fault>{jobTrouble.value.message}</Fault>
  if (trouble && !told) return <Fault>{trouble.message}</Fault>
  if (!told) return <p class="opening">Opening the joints.</p>
  if (!run)
    return (
      <section class="page" aria-label="Joints">
        <h1 class="page-alone">Joints{job.value && `, job ${job.value.number}`}</h1>
        <Empty>
          No joint has been tightened by a sheet on this job yet. On the phone choose a joint, then ‘Tighten’. Sheets are written under
          the engine type, ‘Tightening’.
        </Empty>
      </section>
    )
  return (
    <PrintFrame sheet={`${titleOf(run)}; ${runs.indexOf(run) + 1} of ${runs.length}`} rule="as its sheet asks">
      <section class="figures-page joints-page" aria-labelledby="run-title">
        <nav class="figures-tabs" aria-label="Joints">
          {runs.map((one) => (
            <a
              key={one.run}
              href={address(['job', id, 'joints'], { run: one.run })}
              aria-current={one === run ? 'page' : undefined}
            >
              <Standing of={one} />
              {titleOf(one)}
            </a>
          ))}
        </nav>
        <RunView key={run.run} job={id} run={run} title={titleOf(run)} again={again} />
      </section>
    </PrintFrame>
  )
}

/** "Cylinder head, bank A, tightened" */
export function titleOf({ joint_name, direction }: JobRun): string {
  return `${joint_name}, ${direction === 'loosen' ? 'let go' : 'tightened'}`
}

/** A mark before a run that has departures to be answered, or is not closed. */
function Standing({ of: run }: { of: JobRun }) {
  const open = run.departures.some(({ answered }) => !answered)
  if (!open && run.closed) return null
  return (
    <span class={`tab-mark${open ? ' is-outside' : ''}`}>
      <span class="unseen">{open ? 'departures to be answered: ' : 'not closed: '}</span>
    </span>
  )
}
