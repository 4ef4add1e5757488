import type { ComponentChildren } from 'preact'
import { useMemo, useRef, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { listed } from '../../../trade/ground/sentences.ts'
import { ApiError, post } from '../../frame/api.ts'
import { go } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { faultsAt } from '../form/faults.ts'
import { FaultList, FormAside } from '../form/FormAside.tsx'
import { Tick } from '../form/Tick.tsx'
import { DrawingViews } from './DrawingViews.tsx'
import { readForm, type Typed } from './form.ts'
import { Banks, Camshafts, Pieces } from './FormParts.tsx'
import { Joints } from './Joints.tsx'
import { type Cell, CrankFields, LayoutFields } from './LayoutFields.tsx'

/** Fields the drawing is made from: while one of them is at fault, the last sound drawing stays. */
const DRAWN = /^(layout|bank_angle|cylinders|banks|crankpins|mains|valves|joints|pieces)/

interface Props {
  start: Typed
  onSaved: (type: EngineType) => void
}

/** Adds or changes an engine type. The drawing follows what is typed; faults are shown beside their fields. */
export function TypeForm({ start, onSaved }: Props) {
  const [form, setForm] = useState(start)
  const [refusal, setRefusal] = useState('')
  const [tried, setTried] = useState(false)
  const put = (changes: Partial<Typed>) => setForm((before) => ({ ...before, ...changes }))
  const { type, value, known } = useMemo(() => readForm(form), [form])
  const { faults: fieldFaults, checked, error, checkNow } = useFaults('engine_type', value)
  const faults = [...known, ...fieldFaults]
  const drawn = useRef<EngineType | null>(null)
  if (checked && faults.every(({ where }) => !DRAWN.test(where))) drawn.current = type
  const save = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (known.length || (await checkNow()).length) return
    try {
      const answer = await post<{ engine_type: EngineType }>('/api/engine-types', { engine_type: form.id ? type : { ...type, id: '' } })
      onSaved(answer.engine_type)
    } catch (reason) {
      setRefusal(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const cell: Cell = (field, label) => ({
    label: say(label),
    value: form[field],
    onValue: (value: string) => put({ [field]: value }),
    // An empty field is no fault before the first try.
    wrong: tried || form[field] !== '' ? faultsAt(faults, field) : '',
  })
  return (
    <FormPage start={start} onSubmit={save}>
      <div class="type-form-fields in-grid">
        <LayoutFields form={form} put={put} cell={cell} />
        <Banks banks={form.banks} put={(banks) => put({ banks })} faults={faults} />
        <CrankFields form={form} put={put} cell={cell} faults={faults} />
        <Camshafts shafts={form.camshafts} banks={form.banks} put={(camshafts) => put({ camshafts })} faults={faults} />
        <Joints joints={form.joints} put={(joints) => put({ joints })} faults={faults} />
        <Pieces pieces={form.pieces} put={(pieces) => put({ pieces })} />
        <Field {...cell('notes', 'common.notes')} lines={3} />
        <Tick label={say('engine_types.invented_tick')} checked={form.invented} onChange={(invented) => put({ invented })} />
      </div>
      <FormAside
        name={say('registers.the_drawing')}
        status={checked || faults.length ? standing(faults, form, tried) : say('registers.checking')}
        fault={refusal || error}
        onCancel={() => go(start.id ? ['engine-types', start.id] : ['engine-types'])}
        list={tried && <FaultList faults={faults} />}
      >
        {drawn.current ? <DrawingViews type={drawn.current} /> : <p class="empty">{say('engine_types.drawing_appears')}</p>}
      </FormAside>
    </FormPage>
  )
}

function FormPage({ start, onSubmit, children }: { start: Typed; onSubmit: (event: Event) => void; children: ComponentChildren }) {
  return (
    <section class="page type-form-page" aria-labelledby="type-form-title">
      <header class="page-head along wrapped">
        <h1 id="type-form-title">{start.id ? say('registers.edit_name', { name: start.name }) : say('engine_types.new')}</h1>
      </header>
      <form noValidate class="type-form parted" onSubmit={onSubmit}>
        {children}
      </form>
    </section>
  )
}

/** The state of the description in one sentence. Before the first try, an empty field counts as missing, not as wrong. */
function standing(faults: FieldFault[], form: Typed, tried: boolean): string {
  if (!faults.length) return say('registers.no_faults')
  const missing = [!form.name && say('engine_types.missing_name'), !form.firing_order && say('engine_types.missing_firing_order')]
  const wrong = faults.filter(({ where }) => !(form[where as 'name'] === ''))
  if (!tried && !wrong.length) return say('engine_types.still_missing', { fields: listed(missing.filter((field) => field !== false)) })
  return say('registers.faults_beside_fields', { count: faults.length })
}
