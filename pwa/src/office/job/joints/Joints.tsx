import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { useGet } from '../../frame/useGet.ts'
import { PrintFrame } from '../figures/PrintFrame.tsx'
import { useKeys } from '../../frame/keys.ts'
import { job, jobTrouble } from '../record/state.ts'
import { address, go, route, set } from '../../frame/route.ts'
import { RunView } from './RunView.tsx'
import type { JobRun, JobRuns } from './shapes.ts'
import { say } from '../../frame/say.ts'
import './joints.css'

/** The joints of a job, each run as it was carried out. */
export function Joints({ job: id }: { job: string }) {
  const { data: answer, error, reload } = useGet<JobRuns>(`/api/jobs/${id}/tightening`)
  const runs = answer?.runs ?? []
  const run = runs.find(({ run }) => run === route.value.values['run']) ?? runs[0]
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
  if (jobTrouble.value) return <FaultNotice>{jobTrouble.value.message}</FaultNotice>
  if (error && !answer) return <FaultNotice>{error.message}</FaultNotice>
  if (!answer) return <p class="opening">{say('joints.opening')}</p>
  if (!run)
    return (
      <section class="page" aria-label={say('joints.title')}>
        <h1 class="headline">{job.value ? say('joints.title_of_job', { number: job.value.number }) : say('joints.title')}</h1>
        <EmptyNotice>{say('joints.none_yet')}</EmptyNotice>
      </section>
    )
  return (
    <PrintFrame sheet={say('joints.run_of', { title: titleOf(run), number: runs.indexOf(run) + 1, count: runs.length })} rule={say('joints.rule')}>
      <section class="figures-page joints-page" aria-labelledby="run-title">
        <nav class="figures-tabs wraps below-4" aria-label={say('joints.title')}>
          {runs.map((other) => (
            <a
              key={other.run}
              href={address(['job', id, 'joints'], { run: other.run })}
              aria-current={other === run ? 'page' : undefined}
            >
              <TabMark run={other} />
              {titleOf(other)}
            </a>
          ))}
        </nav>
        <RunView key={run.run} job={id} run={run} title={titleOf(run)} reload={reload} />
      </section>
    </PrintFrame>
  )
}

/** "Cylinder head, bank A, tightened" */
export function titleOf({ joint_name, direction }: JobRun): string {
  return direction === 'loosen' ? say('joints.released', { joint: joint_name }) : say('joints.tightened', { joint: joint_name })
}

/** A mark before a run that has deviations to be answered, or is not closed. */
function TabMark({ run }: { run: JobRun }) {
  const open = run.departures.some(({ answered }) => !answered)
  if (!open && run.closed) return null
  return (
    <span class={`tab-mark${open ? ' is-outside' : ''}`}>
      <span class="unseen">{open ? say('joints.mark_open') : say('joints.mark_not_closed')}</span>
    </span>
  )
}
