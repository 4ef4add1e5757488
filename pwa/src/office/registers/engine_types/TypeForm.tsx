import { useMemo, useRef, useState } from 'preact/hooks'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import { post, ApiError } from '../../frame/api.ts'
import { Fault as Say } from '../../frame/Say.tsx'
import { go } from '../../frame/route.ts'
import { useFaults } from '../../frame/useFaults.ts'
import type { Fault } from '../../../trade/ground/errors.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { count, listed, faultsAt } from '../../frame/words.ts'
import { readForm, usual, type Typed } from './form.ts'
import { Banks, Camshafts, Pieces } from './FormParts.tsx'
import { Joints } from './Joints.tsx'
import { SheetsOf } from './SheetsOf.tsx'

const LAYOUTS: { value: EngineType['layout']; words: string }[] = [
  { value: 'inline', words: 'in line' },
  { value: 'v', words: 'V' },
  { value: 'flat', words: 'flat' },
  { value: 'single', words: 'single' },
]
/** Fields the drawing is made from: while one of them is at fault, the last drawing that held together stays. */
const DRAWN = /^(layout|bank_angle|cylinders|banks|crankpins|mains|valves|joints|pieces)/

interface Props {
  start: Typed
  saved: (type: EngineType) => void
}

/** Describes an engine type. The drawing follows every stroke; what cannot be is said beside the field. */
export function TypeForm({ start, saved }: Props) {
  const [form, setForm] = useState(start)
  const [trouble, setTrouble] = useState('')
  const [tried, setTried] = useState(false)
  const put = (news: Partial<Typed>) => setForm((was) => ({ ...was, ...news }))
  const { type, value, known } = useMemo(() => readForm(form), [form])
  const { faults: found, checked, trouble: unchecked } = useFaults('engine_type', value)
  const faults = [...known, ...found]
  const drawn = useRef<EngineType | null>(null)
  if (checked && faults.every(({ where }) => !DRAWN.test(where))) drawn.current = type

  const arrange = (layout: EngineType['layout'], cylinders: string) => {
    const n = layout === 'single' ? 1 : Number(cylinders)
    const fits = Number.isInteger(n) && n >= 1 && n <= 32
    const kept = { id: form.id, name: form.name, notes: form.notes, pieces: form.pieces, invented: form.invented }
    if (fits) put({ ...usual(layout, n), ...kept })
    else put({ layout, cylinders })
  }
  const keep = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    try {
      const given = { engine_type: form.id ? type : { ...type, id: '' } }
      const told = await post<{ engine_type: EngineType }>('/api/engine-types', given)
      saved(told.engine_type)
    } catch (reason) {
      setTrouble(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  // An empty name or order is no fault yet while it has not been tried: it is simply not written.
  const at = (field: string) => (tried || (form[field as 'name'] ?? 'x') !== '' ? faultsAt(faults, field) : '')
  const cell = (
    name: 'name' | 'bank_angle' | 'cylinders' | 'mains' | 'firing_order' | 'crankpins' | 'notes',
    label: string,
  ) => ({
    label,
    value: form[name],
    onValue: (value: string) => put({ [name]: value }),
    wrong: at(name),
  })
  return (
    <section class="page type-form-page" aria-labelledby="type-form-title">
      <header class="page-head">
        <h1 id="type-form-title">{start.id ? `Describe anew: ${start.name}` : 'New engine type'}</h1>
      </header>
      <form noValidate class="type-form" onSubmit={keep}>
        <div class="type-form-fields">
          <Field {...cell('name', 'Name')} needed hint={form.name ? undefined : 'As it is said in the workshop.'} />
          <Choice
            label="Layout"
            options={LAYOUTS}
            chosen={[form.layout]}
            onChoose={(layout) => layout !== form.layout && arrange(layout, form.cylinders)}
          />
          <div class="block">
            <Field
              {...cell('cylinders', 'Cylinders')}
              figures
              keys="numeric"
              onValue={(value) => arrange(form.layout, value)}
            />
            <Field {...cell('bank_angle', 'Angle between the banks, degrees')} figures keys="numeric" />
            <Field {...cell('mains', 'Main bearings')} figures keys="numeric" />
            <Field {...cell('firing_order', 'Firing order')} figures hint="1 3 4 2" />
          </div>
          <Banks banks={form.banks} put={(banks) => put({ banks })} faults={faults} />
          <div class="block">
            <Field
              {...cell('crankpins', 'Crankpins, front to rear')}
              figures
              lines={Math.min(8, form.crankpins.split('\n').length + 1)}
              hint="A line each: the cylinders on it."
            />
            <div>
              <Field
                label="Turns, seen from the front"
                value={form.rotation}
                onValue={(rotation) => put({ rotation: rotation as EngineType['rotation'] })}
                options={[
                  { value: 'clockwise', words: 'clockwise' },
                  { value: 'anticlockwise', words: 'anticlockwise' },
                ]}
              />
              <Field
                label="Front is"
                value={form.front}
                onValue={(front) => put({ front: front as EngineType['front'] })}
                options={[
                  { value: 'away_from_flywheel', words: 'away from the flywheel' },
                  { value: 'flywheel_end', words: 'the flywheel end' },
                ]}
              />
            </div>
            <Field
              label="Inlet valves per cylinder"
              value={form.inlet}
              onValue={(inlet) => put({ inlet })}
              figures
              keys="numeric"
              wrong={faultsAt(faults, 'valves.inlet')}
            />
            <Field
              label="Exhaust valves per cylinder"
              value={form.exhaust}
              onValue={(exhaust) => put({ exhaust })}
              figures
              keys="numeric"
              wrong={faultsAt(faults, 'valves.exhaust')}
            />
          </div>
          <Camshafts
            shafts={form.camshafts}
            banks={form.banks}
            put={(camshafts) => put({ camshafts })}
            faults={faults}
          />
          <Joints joints={form.joints} put={(joints) => put({ joints })} faults={faults} />
          <Pieces pieces={form.pieces} put={(pieces) => put({ pieces })} />
          <Field {...cell('notes', 'Notes')} lines={3} />
          <label class="tick">
            <input
              type="checkbox"
              checked={form.invented}
              onChange={(event) => put({ invented: event.currentTarget.checked })}
            />
            <span>invented, for practice: said wherever it is shown</span>
          </label>
        </div>
        <aside class="type-form-drawing" aria-label="How it draws">
          <p role="status" class="type-form-faults">
            {checked || faults.length ? standing(faults, form, tried) : 'Being checked.'}
          </p>
          {tried && faults.length > 0 && (
            <ul class="fault-list" aria-label="What to put right">
              {faults.map((fault) => (
                <li key={fault.where + fault.message}>{fault.message}</li>
              ))}
            </ul>
          )}
          <Say>{trouble || unchecked}</Say>
          <div class="acts">
            <button class="main-act">{start.id ? 'Keep this description' : 'Keep this engine type'}</button>
            <button
              type="button"
              class="plain"
              onClick={() => go(start.id ? ['engine-types', start.id] : ['engine-types'])}
            >
              Leave
            </button>
          </div>
          {drawn.current ? (
            <SheetsOf type={drawn.current} />
          ) : (
            <p class="empty">The drawing appears once the layout holds together.</p>
          )}
        </aside>
      </form>
    </section>
  )
}

/** How the description stands, in one sentence. What is merely not written yet is no fault before it was tried. */
function standing(faults: Fault[], form: Typed, tried: boolean): string {
  if (!faults.length) return 'It holds together.'
  const missing = [!form.name && 'the name', !form.firing_order && 'the firing order'].filter((one) => one !== false)
  const others = faults.filter(({ where }) => !(form[where as 'name'] === ''))
  if (!tried && !others.length) return `Still to be written: ${listed(missing)}.`
  return `${count(faults.length, 'thing')} to put right, said beside the fields.`
}
