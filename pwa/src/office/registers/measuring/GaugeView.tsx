import { FactList } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { address } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { count, dayAndClock, nameOf } from '../../frame/words.ts'
import { dateWords, dueWords, today } from './dates.ts'
import { sortWords } from './GaugeForm.tsx'
import type { Gauge } from '../../../trade/measuring/gauges.ts'
import type { GaugeShown } from './shapes.ts'

/** "50 to 160 mm" */
export function range({ low, high, unit }: Gauge): string {
  if (low && high) return `${low} to ${high} ${unit}`
  return high ? `up to ${high} ${unit}` : low ? `from ${low} ${unit}` : unit
}

/** One gauge: its description, how it was described before, and what it measured. */
export function GaugeView({ gauge }: { gauge: Gauge }) {
  const { told } = useAsk<GaugeShown>(`/api/gauges/${gauge.id}`)
  const facts: [string, string][] = [
    ['sort', sortWords(gauge.sort)],
    ['serial number', gauge.serial],
    ['range', range(gauge)],
    ['resolution', gauge.resolution && `${gauge.resolution} ${gauge.unit}`],
    ['permissible error', gauge.mpe && `±${gauge.mpe} ${gauge.unit}`],
    ['repeatability', gauge.repeatability && `${gauge.repeatability} ${gauge.unit}, standard deviation of single readings`],
    ['certificate', gauge.certificate],
    ['calibrated', gauge.calibrated && dateWords(gauge.calibrated)],
    ['due', gauge.retired ? 'retired' : dueWords(gauge.due, today())],
    ['notes', gauge.notes],
  ]
  return (
    <section class="page gauge-page" aria-labelledby="gauge-title">
      <PageHead
        id="gauge-title"
        title={gauge.name}
        acts={
          isManager.value && (
            <a class="act" href={address(['gauges', gauge.id, 'edit'])}>
              Describe anew
            </a>
          )
        }
      />
      <div class="facts-sheet">
        <section aria-label="Description">
          <h2>Description</h2>
          <FactList facts={facts} />
        </section>
        {told && told.history.length > 0 && (
          <section aria-label="History">
            <h2>History</h2>
            <ol class="visits">
              {told.history.map((one) => (
                <li key={one.position}>
                  {dayAndClock(one.received)}, {nameOf(one.author)}
                  <span class="soft gauge-paper">
                    ±{one.gauge.mpe} {one.gauge.unit}
                    {one.gauge.certificate && `, certificate ${one.gauge.certificate}`}
                    {one.gauge.due && `, due ${dateWords(one.gauge.due)}`}
                    {one.gauge.retired && ', retired'}
                  </span>
                </li>
              ))}
            </ol>
          </section>
        )}
        {told?.figures && (
          <section aria-label="What it measured">
            <h2>What it measured</h2>
            {told.figures.length === 0 && <p>Nothing yet.</p>}
            <ul class="visits">
              {told.figures.map((one) => (
                <li key={one.job + one.procedure}>
                  <a href={address(['job', one.job, 'figures'], { procedure: one.procedure || 'single_readings' })}>
                    job {one.number}, {one.name || 'single readings'}
                  </a>
                  , {count(one.readings, 'reading')}
                  {one.overdue > 0 && <span class="caution"> {count(one.overdue, 'reading')} past its date</span>}
                </li>
              ))}
            </ul>
          </section>
        )}
      </div>
    </section>
  )
}
