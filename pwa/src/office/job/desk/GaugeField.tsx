import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { say } from '../../frame/say.ts'
import { dateWords, today } from '../../registers/measuring/dates.ts'
import type { Register } from './basis.ts'

const OTHER = 'other'

interface Props {
  known: Register
  /** Id of a gauge of the register; '' for none. */
  chosen: string
  name: string
  put: (gauge: { gauge_id?: string; gauge: string }) => void
}

/** A gauge of the register, or another gauge by its name, whose uncertainty is then not known. */
export function GaugeField({ known, chosen, name, put }: Props) {
  const [other, setOther] = useState(false)
  const due = known.gauges.find(({ id }) => id === chosen)?.due ?? ''
  const overdue = due !== '' && due < today()
  const choose = (id: string) => {
    setOther(id === OTHER)
    put({ gauge_id: id === OTHER ? '' : id, gauge: known.gauges.find((gauge) => gauge.id === id)?.name ?? '' })
  }
  return (
    <>
      <Field
        label={say('desk.gauge')}
        value={other ? OTHER : chosen}
        onValue={choose}
        options={[
          { value: '', words: say('record.not_given') },
          ...known.gauges.filter(({ retired }) => !retired).map(({ id, name: words }) => ({ value: id, words })),
          { value: OTHER, words: say('desk.gauge_other') },
        ]}
        hint={overdue ? say('desk.gauge_overdue', { date: dateWords(due) }) : undefined}
      />
      {other && <Field label={say('desk.gauge_name')} value={name} onValue={(gauge) => put({ gauge })} hint={say('desk.gauge_name_hint')} />}
    </>
  )
}
