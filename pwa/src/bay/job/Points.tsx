import type { EngineType, Job } from '../../store/index.ts'
import { Strip } from '../frame/Strip.tsx'
import { pointsOf } from '../frame/places.ts'
import { goTo, useWhere } from '../frame/useJob.ts'
import { say } from '../frame/say.ts'

/** The points on the part in hand: offered, never forced; a second touch leaves the point open again. */
export function Points({ job, type }: { job: Job; type: EngineType }) {
  const at = useWhere(job)
  const points = pointsOf(type, at.place)
  if (points.length === 0) return null
  return (
    <Strip
      name={say('points.title')}
      kind="points"
      items={points.map((point) => ({ value: point, words: point }))}
      chosen={at.point}
      onChoose={(point) => goTo(job, at.place, point === at.point ? '' : point)}
    />
  )
}
