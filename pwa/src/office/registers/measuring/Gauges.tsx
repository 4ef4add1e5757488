import { PageHead } from '../../frame/PageHead.tsx'
import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { address, go, route } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { count } from '../../frame/words.ts'
import { dateWords, dueWords, today } from './dates.ts'
import { GaugeForm, newGauge, sortWords } from './GaugeForm.tsx'
import { GaugeView, range } from './GaugeView.tsx'
import { RulesPage } from './Rules.tsx'
import { Tools } from '../torque/Tools.tsx'
import type { Gauge } from '../../../trade/measuring/gauges.ts'

type Line = Gauge & { overdue: boolean }

/** The register of gauges: what each reads, how well, and until when that is vouched for. */
export function Gauges() {
  const [, id, leaf] = route.value.path
  const { told, trouble, again } = useAsk<{ gauges: Line[] }>('/api/gauges')
  const gauges = told?.gauges ?? []
  const one = gauges.find((gauge) => gauge.id === id)
  const saved = (gauge: string) => {
    again()
    go(['gauges', gauge])
  }
  if (id === 'rules') return <RulesPage />
  if (id === 'torque') return <Tools />
  if (id === 'new' && isManager.value) return <GaugeForm start={newGauge()} saved={saved} />
  if (id && !told && !trouble) return <p class="opening">Opening the register.</p>
  if (one && leaf === 'edit' && isManager.value) return <GaugeForm key={one.id} start={described(one)} saved={saved} />
  if (one) return <GaugeView key={one.id} gauge={one} />
  const inUse = gauges.filter(({ retired }) => !retired)
  const overdue = inUse.filter((gauge) => gauge.overdue)
  return (
    <section class="page register-page" aria-labelledby="gauges-title">
      <PageHead
        id="gauges-title"
        title="Gauges"
        acts={
          <>
            <a class="act" href={address(['gauges', 'rules'])}>
              Measuring rules
            </a>
            <a class="act" href={address(['gauges', 'torque'])}>
              Torque tools
            </a>
            {isManager.value && (
              <a class="act main-act" href={address(['gauges', 'new'])}>
                New gauge
              </a>
            )}
          </>
        }
      >
        {overdue.length > 0 && (
          <p class="caution">
            <b>
              {count(overdue.length, 'gauge')} past the calibration date: {overdue.map(({ name }) => name).join(', ')}.
            </b>
          </p>
        )}
      </PageHead>
      <Fault>{trouble?.message || (id && told && !one ? 'There is no such gauge in the register.' : '')}</Fault>
      {told && gauges.length === 0 && (
        <Empty>
          The register is empty. Without a gauge no figure can be proven: put in the first one with its resolution and permissible
          error.
        </Empty>
      )}
      {gauges.length > 0 && (
        <table class="register gauges">
          <thead>
            <tr>
              <th scope="col">gauge</th>
              <th scope="col">reads</th>
              <th scope="col">step</th>
              <th scope="col">permissible error</th>
              <th scope="col">calibrated</th>
              <th scope="col">due</th>
            </tr>
          </thead>
          <tbody>
            {[...inUse, ...gauges.filter(({ retired }) => retired)].map((gauge) => (
              <tr key={gauge.id} class={gauge.retired ? 'is-retired' : ''} onClick={() => go(['gauges', gauge.id])}>
                <th scope="row">
                  <a href={address(['gauges', gauge.id])}>{gauge.name}</a>
                  <span class="soft">
                    {sortWords(gauge.sort)}
                    {gauge.serial && `, ${gauge.serial}`}
                  </span>
                </th>
                <td class="figure" data-word="reads">
                  {range(gauge)}
                </td>
                <td class="figure" data-word="step">
                  {gauge.resolution}
                </td>
                <td class="figure" data-word="permissible error">
                  ±{gauge.mpe}
                </td>
                <td data-word="calibrated">
                  {gauge.calibrated ? dateWords(gauge.calibrated) : 'not said'}
                  {gauge.certificate && <span class="soft gauge-paper">{gauge.certificate}</span>}
                </td>
                <td data-word="">
                  {gauge.retired ? (
                    'retired'
                  ) : (
                    <span class={gauge.overdue ? 'caution is-late' : ''}>{dueWords(gauge.due, today())}</span>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

/** The description alone, without what the register says beside it. */
function described(line: Line): Gauge {
  const names = Object.keys(newGauge()) as (keyof Gauge)[]
  return Object.fromEntries(names.map((name) => [name, line[name]])) as unknown as Gauge
}
