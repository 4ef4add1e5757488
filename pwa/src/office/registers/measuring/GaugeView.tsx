import { FactList, type Fact } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import type { Gauge } from '../../../trade/measuring/gauges.ts'
import { History } from '../History.tsx'
import { rangeWords } from '../register_range.ts'
import { dateWords, dueWords, isOverdue, today } from './dates.ts'
import { sortWords } from './gauge_fields.ts'
import type { GaugeShown } from './shapes.ts'

/** One gauge: its description, how it was described before, and what it measured. */
export function GaugeView({ gauge }: { gauge: Gauge }) {
  const { data } = useGet<GaugeShown>(`/api/gauges/${gauge.id}`)
  const edit = (
    <a class="act" href={address(['gauges', gauge.id, 'edit'])}>
      {say('common.edit')}
    </a>
  )
  return (
    <section class="page gauge-page" aria-labelledby="gauge-title">
      <PageHead id="gauge-title" title={gauge.name} acts={isManager.value && edit} />
      <div class="columned headed">
        <section aria-label={say('common.description')}>
          <h2>{say('common.description')}</h2>
          <FactList facts={factsOf(gauge)} />
        </section>
        <History history={data?.history} describe={(line) => <span class="soft gauge-paper own-line small">{inShort(line.gauge)}</span>} />
        {data?.figures && <Measured figures={data.figures} />}
      </div>
    </section>
  )
}

function factsOf(gauge: Gauge): Fact[] {
  const { unit, resolution, mpe, repeatability, calibrated } = gauge
  return [
    [say('registers.fact_type'), sortWords(gauge.sort)],
    [say('registers.fact_serial_number'), gauge.serial],
    [say('registers.column_range'), rangeWords(gauge)],
    [say('gauges.fact_resolution'), resolution && `${resolution} ${unit}`],
    [say('gauges.column_permissible_error'), mpe && `±${mpe} ${unit}`],
    [say('gauges.fact_repeatability'), repeatability && say('gauges.repeatability_value', { value: repeatability, unit })],
    [say('registers.fact_certificate'), gauge.certificate],
    [say('registers.column_calibrated'), calibrated && dateWords(calibrated)],
    [
      say('registers.column_due'),
      gauge.retired ? say('registers.retired') : dueWords(gauge.due, today()),
      !gauge.retired && isOverdue(gauge.due, today()) ? 'late' : undefined,
    ],
    [say('registers.fact_notes'), gauge.notes],
  ]
}

/** A description in one line, as the history has it. */
function inShort({ mpe, unit, certificate, due, retired }: Gauge): string {
  return [
    `±${mpe} ${unit}`,
    certificate && say('registers.certificate_number', { certificate }),
    due && say('registers.due', { date: dateWords(due) }),
    retired && say('registers.retired'),
  ]
    .filter(Boolean)
    .join(', ')
}

function Measured({ figures }: { figures: NonNullable<GaugeShown['figures']> }) {
  return (
    <section aria-label={say('gauges.used_on')}>
      <h2>{say('gauges.used_on')}</h2>
      {figures.length === 0 && <p>{say('gauges.not_used_yet')}</p>}
      <ul class="visits">
        {figures.map(({ job, number, procedure, name, readings, overdue }) => (
          <li key={job + procedure}>
            <a href={address(['job', job, 'figures'], { procedure: procedure || 'single_readings' })}>
              {say('gauges.job_and_sheet', { number, sheet: name || say('gauges.single_readings') })}
            </a>
            <span class="soft"> {say('registers.readings', { count: readings })}</span>
            {overdue > 0 && <span class="caution"> {say('gauges.readings_overdue', { count: overdue })}</span>}
          </li>
        ))}
      </ul>
    </section>
  )
}
