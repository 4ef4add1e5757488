import { stayAt, where, type Where } from '../../capture/index.ts'
import { type EngineType, type Job, engineTypes, jobs } from '../../store/index.ts'
import { route } from './route.ts'

/** The job of the screen that is open, or null when this phone does not know it. */
export function useJob(): Job | null {
  const id = route.value.job
  return jobs.value.find((job) => job.id === id) ?? null
}

export function useType(job: Job | null): EngineType | null {
  return job ? (engineTypes.value.get(job.engine_type) ?? null) : null
}

/** Where the next record belongs: the place that stays chosen, or the job itself. */
export function useWhere(job: Job): Where {
  const now = where.value
  return now?.job === job.id ? now : { job: job.id, place: '', point: '' }
}

/** Chooses a place; the point goes with the old place. */
export function goTo(job: Job, place: string, point = ''): void {
  void stayAt({ job: job.id, place, point })
}
