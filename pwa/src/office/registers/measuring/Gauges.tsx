import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address, go, route } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { listed } from '../../../trade/ground/sentences.ts'
import type { Gauge } from '../../../trade/measuring/gauges.ts'
import { rangeWords } from '../register_range.ts'
import { CalibrationCells, inUseFirst } from '../Calibration.tsx'
import { newGauge, sortWords } from './gauge_fields.ts'
import { GaugeForm } from './GaugeForm.tsx'
import { GaugeView } from './GaugeView.tsx'
import { RulesPage } from './Rules.tsx'
import { Tools } from '../torque/Tools.tsx'
import './gauges.css'

type Line = Gauge & { overdue: boolean }

/** The register of gauges, and the pages under it. */
export function Gauges() {
  const [, id, leaf] = route.value.path
  const { data, error, reload } = useGet<{ gauges: Line[] }>('/api/gauges')
  const gauges = data?.gauges ?? []
  const gauge = gauges.find((line) => line.id === id)
  const onSaved = (saved: string) => {
    reload()
    go(['gauges', saved])
  }
  if (id === 'rules') return <RulesPage />
  if (id === 'torque') return <Tools />
  if (id === 'new' && isManager.value) return <GaugeForm start={newGauge()} onSaved={onSaved} />
  if (id && !data && !error) return <p class="opening">{say('registers.opening')}</p>
  if (gauge && leaf === 'edit' && isManager.value) return <GaugeForm key={gauge.id} start={described(gauge)} onSaved={onSaved} />
  if (gauge) return <GaugeView key={gauge.id} gauge={gauge} />
  return <Register gauges={gauges} loaded={Boolean(data)} fault={error?.message || (id && data ? say('gauges.not_found') : '')} />
}

/** What each gauge reads, how well, and until when its calibration is valid. */
function Register({ gauges, loaded, fault }: { gauges: Line[]; loaded: boolean; fault: string }) {
  const overdue = gauges.filter((gauge) => gauge.overdue && !gauge.retired)
  return (
    <section class="page register-page" aria-labelledby="gauges-title">
      <PageHead id="gauges-title" title={say('gauges.title')} acts={<Acts />}>
        {overdue.length > 0 && (
          <p class="caution">
            <b>{say('gauges.overdue', { count: overdue.length, names: listed(overdue.map(({ name }) => name)) })}</b>
          </p>
        )}
      </PageHead>
      <FaultNotice>{fault}</FaultNotice>
      {loaded && gauges.length === 0 && <EmptyNotice>{say('gauges.none_yet')}</EmptyNotice>}
      {gauges.length > 0 && <GaugeTable gauges={gauges} />}
    </section>
  )
}

function Acts() {
  return (
    <>
      <a class="act" href={address(['gauges', 'rules'])}>
        {say('rules.title')}
      </a>
      <a class="act" href={address(['gauges', 'torque'])}>
        {say('tools.title')}
      </a>
      {isManager.value && (
        <a class="act main-act" href={address(['gauges', 'new'])}>
          {say('gauges.new')}
        </a>
      )}
    </>
  )
}

function GaugeTable({ gauges }: { gauges: Line[] }) {
  return (
    <table class="register gauges whole thick-over">
      <thead>
        <tr>
          <th scope="col">{say('gauges.column_gauge')}</th>
          <th scope="col">{say('registers.column_range')}</th>
          <th scope="col">{say('gauges.fact_resolution')}</th>
          <th scope="col">{say('gauges.column_permissible_error')}</th>
          <th scope="col">{say('registers.column_calibrated')}</th>
          <th scope="col">{say('registers.column_due')}</th>
        </tr>
      </thead>
      <tbody>
        {inUseFirst(gauges).map((gauge) => (
          <tr key={gauge.id} class={gauge.retired ? 'is-retired' : ''} onClick={() => go(['gauges', gauge.id])}>
            <th scope="row">
              <a href={address(['gauges', gauge.id])}>{gauge.name}</a>
              <span class="soft">{[sortWords(gauge.sort), gauge.serial].filter(Boolean).join(', ')}</span>
            </th>
            <td class="figure" data-word={say('registers.column_range')}>
              {rangeWords(gauge)}
            </td>
            <td class="figure" data-word={say('gauges.fact_resolution')}>
              {gauge.resolution}
            </td>
            <td class="figure" data-word={say('gauges.column_permissible_error')}>
              ±{gauge.mpe}
            </td>
            <CalibrationCells of={gauge} />
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The description alone, without what the register adds to it. */
function described(line: Line): Gauge {
  const names = Object.keys(newGauge()) as (keyof Gauge)[]
  return Object.fromEntries(names.map((name) => [name, line[name]])) as unknown as Gauge
}
