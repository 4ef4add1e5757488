import { Field } from '../../../parts/controls/Field.tsx'
import { type Gauge, SORTS } from '../../../trade/measuring/gauges.ts'
import { UNITS } from '../../../trade/ground/units.ts'
import { Fault as Say } from '../../frame/Say.tsx'
import { go } from '../../frame/route.ts'
import { useStatement } from './useStatement.ts'

export function sortWords(code: string): string {
  return SORTS[code]?.words ?? code.replaceAll('_', ' ')
}

/** The units that a sort of gauge can read in. */
function unitsFor(sort: string): { value: string; words: string }[] {
  const kinds = SORTS[sort]?.kinds ?? []
  return Object.entries(UNITS)
    .filter(([code, { kind }]) => code && kinds.includes(kind))
    .map(([value, { words }]) => ({ value, words: `${value}, ${words}` }))
}

/** A gauge not described yet. */
export function newGauge(): Gauge {
  return {
    ...{ id: '', name: '', sort: 'external_micrometer', serial: '', unit: 'mm', low: '', high: '', resolution: '', mpe: '', repeatability: '' },
    ...{ certificate: '', calibrated: '', due: '', retired: false, notes: '' },
  }
}

/** Puts a gauge into the register or describes it anew; what cannot be is said beside its field. */
export function GaugeForm({ start, saved }: { start: Gauge; saved: (id: string) => void }) {
  const { typed: gauge, put, wrong, send, said } = useStatement('gauge', start)
  const keep = async (event: Event) => {
    event.preventDefault()
    const told = await send<{ gauge: Gauge }>('/api/gauges', { gauge })
    if (told) saved(told.gauge.id)
  }
  const cell = (name: Exclude<keyof Gauge, 'retired' | 'id'>, label: string) => ({
    label,
    value: gauge[name],
    onValue: (value: string) => put({ [name]: value }),
    wrong: wrong(name),
  })
  return (
    <section class="page narrow-page" aria-labelledby="gauge-form-title">
      <header class="page-head">
        <h1 id="gauge-form-title">{start.id ? `Describe anew: ${start.name}` : 'New gauge'}</h1>
      </header>
      {start.id && (
        <p class="page-words">
          Earlier descriptions stay in the log. Figures already judged keep the description they were made with, beside what counts
          now.
        </p>
      )}
      <form noValidate class="block" onSubmit={keep}>
        <Field {...cell('name', 'Name')} needed hint="As it is called for at the bench: bore gauge 4." />
        <Field
          {...cell('sort', 'Sort')}
          options={Object.values(SORTS).map(({ code, words }) => ({ value: code, words }))}
          onValue={(sort) => {
            const units = unitsFor(sort)
            put({ sort, unit: units.some(({ value }) => value === gauge.unit) ? gauge.unit : (units[0]?.value ?? '') })
          }}
        />
        <Field {...cell('serial', 'Serial number')} figures />
        <Field {...cell('unit', 'Reads in')} options={unitsFor(gauge.sort)} />
        <Field {...cell('low', 'Range from')} figures keys="decimal" />
        <Field {...cell('high', 'Range to')} figures keys="decimal" />
        <Field {...cell('resolution', 'Resolution')} needed figures keys="decimal" hint="The smallest step that can be read." />
        <Field
          {...cell('mpe', 'Permissible error, plus or minus')}
          needed
          figures
          keys="decimal"
          hint="The most it may be wrong by, from its certificate or data sheet."
        />
        <Field
          {...cell('repeatability', 'Repeatability, if it was studied')}
          figures
          keys="decimal"
          hint="Standard deviation of single readings on one piece."
        />
        <Field {...cell('certificate', 'Certificate')} />
        <Field {...cell('calibrated', 'Calibrated on')} date />
        <Field {...cell('due', 'Next due')} date hint="After that day every figure it gives says so." />
        <div class="wide">
          <Field {...cell('notes', 'Notes')} lines={2} />
        </div>
        <label class="tick wide">
          <input type="checkbox" checked={gauge.retired} onChange={(event) => put({ retired: event.currentTarget.checked })} />
          <span>retired: no longer offered on the phones; what it gave stays</span>
        </label>
        <Say>{said}</Say>
        <div class="acts">
          <button class="main-act">{start.id ? 'Keep this description' : 'Put it into the register'}</button>
          <button type="button" class="plain" onClick={() => go(start.id ? ['gauges', start.id] : ['gauges'])}>
            Leave
          </button>
        </div>
      </form>
    </section>
  )
}
