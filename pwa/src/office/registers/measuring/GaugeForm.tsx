import type { Gauge } from '../../../trade/measuring/gauges.ts'
import { go } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { StatementForm } from '../form/StatementForm.tsx'
import { GAUGE_FIELDS } from './gauge_fields.ts'

/** Adds a gauge to the register or changes its description. */
export function GaugeForm({ start, onSaved }: { start: Gauge; onSaved: (id: string) => void }) {
  return (
    <section class="page narrow-page" aria-labelledby="gauge-form-title">
      <header class="page-head along wrapped">
        <h1 id="gauge-form-title">{start.id ? say('registers.edit_name', { name: start.name }) : say('gauges.new')}</h1>
      </header>
      {start.id && <p class="page-words">{say('gauges.earlier_stay')}</p>}
      <StatementForm
        sort="gauge"
        start={start}
        fields={GAUGE_FIELDS}
        path="/api/gauges"
        name="gauge"
        submit={start.id ? say('common.save') : say('registers.add')}
        onSaved={onSaved}
        onCancel={() => go(start.id ? ['gauges', start.id] : ['gauges'])}
      />
    </section>
  )
}
