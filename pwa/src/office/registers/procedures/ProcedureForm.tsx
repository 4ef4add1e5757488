import { useMemo, useRef, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { PARTS } from '../../../trade/engine/parts.ts'
import { DRAWINGS, WALKS, type Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { ApiError, post } from '../../frame/api.ts'
import { go } from '../../frame/route.ts'
import { say, type SentenceKey } from '../../frame/say.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { faultsAt } from '../form/faults.ts'
import { FormAside } from '../form/FormAside.tsx'
import { readForm, type Typed } from './form.ts'
import { AcrossLines } from './AcrossLines.tsx'
import { FigureLines } from './FigureLines.tsx'
import { Axes, SeparateReadings, Sizes } from './GridLines.tsx'
import { TryOut } from './TryOut.tsx'

const DRAWING_NAMES: Record<string, SentenceKey> = {
  bore: 'procedures.drawing_bore',
  journal: 'procedures.drawing_journal',
  housing: 'procedures.drawing_housing',
  face: 'procedures.drawing_face',
  lobe: 'procedures.drawing_lobe',
  pin: 'procedures.drawing_pin',
  list: 'procedures.drawing_list',
}

interface Props {
  start: Typed
  onSaved: (procedure: Procedure) => void
}

/** A procedure of the workshop's own. Beside the lines is what they work out from made-up readings. */
export function ProcedureForm({ start, onSaved }: Props) {
  const [form, setForm] = useState(start)
  const [tried, setTried] = useState(false)
  const [refusal, setRefusal] = useState('')
  const put = (changes: Partial<Typed>) => setForm((before) => ({ ...before, ...changes }))
  const { procedure, value, known } = useMemo(() => readForm(form), [form])
  const { faults: fieldFaults, checked, error, checkNow } = useFaults('procedure', value)
  const faults = [...known, ...fieldFaults]
  const sound = useRef<Procedure | null>(null)
  // While a line is at fault the last sound procedure stays on show; a missing name makes no difference to the figures.
  if (checked && faults.every(({ where }) => ['name', 'code', 'edition'].includes(where))) sound.current = procedure
  const save = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (known.length || (await checkNow()).length) return
    try {
      await post('/api/procedures', { procedure })
      onSaved(procedure)
    } catch (reason) {
      setRefusal(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const shown = tried ? faults : faults.filter(({ where }) => where !== 'name' || form.name !== '')
  const lines = { form, put, faults: shown }
  return (
    <section class="page procedure-form-page" aria-labelledby="procedure-form-title">
      <header class="page-head along wrapped">
        <h1 id="procedure-form-title">{start.code ? say('registers.edit_name', { name: start.name }) : say('procedures.new')}</h1>
        {start.code && <p class="soft">{say('procedures.edition_note', { edition: form.edition })}</p>}
      </header>
      <form noValidate class="type-form parted procedure-form" onSubmit={save}>
        <div class="type-form-fields in-grid">
          <Basics form={form} put={put} wrong={(field) => faultsAt(shown, field)} />
          <Axes {...lines} />
          <SeparateReadings {...lines} />
          <Sizes {...lines} />
          <FigureLines {...lines} procedure={procedure} />
          <AcrossLines {...lines} procedure={procedure} />
          <Remarks form={form} put={put} wrong={(field) => faultsAt(shown, field)} />
        </div>
        <FormAside
          name={say('procedures.trial')}
          status={standing(shown.length, checked)}
          fault={refusal || (tried && faults[0]?.message) || error}
          onCancel={() => go(start.code ? ['procedures', start.code] : ['procedures'])}
        >
          {sound.current ? <TryOut procedure={sound.current} /> : <p class="empty">{say('procedures.trial_appears')}</p>}
        </FormAside>
      </form>
    </section>
  )
}

/** The state of the procedure in one sentence. */
function standing(faults: number, checked: boolean): string {
  if (faults) return say('registers.faults_beside_fields', { count: faults })
  return checked ? say('registers.no_faults') : say('registers.checking')
}

interface PartProps {
  form: Typed
  put: (changes: Partial<Typed>) => void
  wrong: (field: string) => string
}

/** Its name, what is measured and how it is drawn. */
function Basics({ form, put, wrong }: PartProps) {
  return (
    <>
      <Field label={say('common.name')} value={form.name} onValue={(name) => put({ name })} wrong={wrong('name') || wrong('code')} needed />
      <div class="block halves">
        <Field
          label={say('procedures.part')}
          value={form.part}
          onValue={(part) => put({ part })}
          options={Object.values(PARTS).map(({ code, name }) => ({ value: code, words: name }))}
          wrong={wrong('part')}
        />
        <Field
          label={say('procedures.drawing')}
          value={form.drawing}
          onValue={(drawing) => put({ drawing })}
          options={DRAWINGS.map((value) => ({ value, words: DRAWING_NAMES[value] ? say(DRAWING_NAMES[value]) : value }))}
        />
        <Field
          label={say('procedures.grid_quantity')}
          value={form.quantity}
          onValue={(quantity) => put({ quantity })}
          options={QUANTITIES.map(({ code, words }) => ({ value: code, words }))}
          wrong={wrong('quantity')}
        />
        <Field
          label={say('procedures.usual_order')}
          value={form.walk}
          onValue={(walk) => put({ walk: walk as Typed['walk'] })}
          options={Object.entries(WALKS).map(([value, words]) => ({ value, words }))}
        />
      </div>
    </>
  )
}

function Remarks({ form, put, wrong }: PartProps) {
  return (
    <>
      <Field label={say('procedures.about')} value={form.about} onValue={(about) => put({ about })} lines={3} wrong={wrong('about')} />
      <Field
        label={say('procedures.cautions')}
        value={form.cautions}
        onValue={(cautions) => put({ cautions })}
        lines={2}
        hint={say('procedures.cautions_hint')}
        wrong={wrong('cautions')}
      />
    </>
  )
}
