import type { ComponentChildren } from 'preact'
import { Field } from '../../../parts/controls/Field.tsx'
import type { Fault } from '../../../trade/ground/errors.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { faultsAt } from '../../frame/words.ts'
import { NO_READING, type Typed } from './form.ts'

export interface LinesProps {
  form: Typed
  put: (news: Partial<Typed>) => void
  faults: Fault[]
}

/** Puts `news` in place of one item of a list. */
export function at<T>(list: T[], index: number, news: Partial<T>): T[] {
  return list.map((item, i) => (i === index ? { ...item, ...news } : item))
}

const QUANTITY_WORDS = QUANTITIES.map(({ code, words }) => ({ value: code, words }))

interface GroupProps {
  name: string
  hint?: string
  add: string
  adds: () => void
  fault?: string
  children: ComponentChildren
}

export function Group({ name, hint, add, adds, fault, children }: GroupProps) {
  return (
    <fieldset class="group">
      <legend>{name}</legend>
      {hint && <p class="soft small">{hint}</p>}
      {children}
      {fault && <p class="field-wrong">{fault}</p>}
      <button type="button" class="plain" onClick={adds}>
        {add}
      </button>
    </fieldset>
  )
}

export function LeaveOut({ what, act }: { what: string; act: () => void }) {
  return (
    <button type="button" class="plain line-out" onClick={act} aria-label={`Leave out ${what}`}>
      leave out
    </button>
  )
}

/** Faults of a whole list or line that belong to none of its fields. */
export function own(faults: Fault[], where: string): string {
  return faults
    .filter((fault) => fault.where === where)
    .map(({ message }) => message)
    .join(' ')
}

export function Axes({ form, put, faults }: LinesProps) {
  const set = (grid: Typed['grid']) => put({ grid })
  return (
    <Group
      name="Grid"
      hint="Up to three axes; a reading is asked for at every crossing."
      add="Add an axis"
      adds={() => set([...form.grid, { words: '', code: '', values: '' }])}
      fault={own(faults, 'grid') || own(faults, 'optional')}
    >
      {form.grid.map((axis, i) => (
        <div class="row row-axis" key={i}>
          <Field
            label={`Axis ${i + 1}`}
            value={axis.words}
            onValue={(words) => set(at(form.grid, i, { words }))}
            wrong={own(faults, `grid.${i}`) || faultsAt(faults, `grid.${i}.axis`) || own(faults, `grid.${i}.words`)}
          />
          <Field
            label={`Values of ${axis.words || `axis ${i + 1}`}, a line each`}
            value={axis.values}
            onValue={(values) => set(at(form.grid, i, { values }))}
            lines={Math.max(2, Math.min(6, axis.values.split('\n').length))}
            wrong={faultsAt(faults, `grid.${i}.values`)}
          />
          <LeaveOut what={`axis ${axis.words || i + 1}`} act={() => set(form.grid.filter((_, n) => n !== i))} />
        </div>
      ))}
      {form.grid.length > 0 && (
        <Field
          label="May be left out"
          value={form.optional}
          onValue={(optional) => put({ optional })}
          hint="Readings of the grid by their codes, parted by commas: centre/0, centre/90."
        />
      )}
    </Group>
  )
}

export function Beside({ form, put, faults }: LinesProps) {
  const set = (readings: Typed['readings']) => put({ readings })
  return (
    <Group
      name="Readings beside the grid"
      add="Add a reading"
      adds={() => set([...form.readings, { ...NO_READING, quantity: form.quantity }])}
      fault={own(faults, 'readings')}
    >
      {form.readings.map((one, i) => (
        <div class="row row-beside" key={i}>
          <Field
            label={`Reading ${i + 1}`}
            value={one.words}
            onValue={(words) => set(at(form.readings, i, { words }))}
            wrong={faultsAt(faults, `readings.${i}`)}
          />
          <Field label="Quantity" value={one.quantity} onValue={(quantity) => set(at(form.readings, i, { quantity }))} options={QUANTITY_WORDS} />
          <label class="tick">
            <input
              type="checkbox"
              checked={one.optional}
              onChange={(event) => set(at(form.readings, i, { optional: event.currentTarget.checked }))}
            />
            <span>may be left out</span>
          </label>
          <LeaveOut what={`reading ${one.words || i + 1}`} act={() => set(form.readings.filter((_, n) => n !== i))} />
        </div>
      ))}
    </Group>
  )
}

export function Sizes({ form, put, faults }: LinesProps) {
  const set = (sizes: Typed['sizes']) => put({ sizes })
  return (
    <Group
      name="Sizes of the engine type"
      hint="Set once for each engine type with their source, such as the nominal bore."
      add="Add a size"
      adds={() => set([...form.sizes, { code: '', words: '', quantity: form.quantity, many: false }])}
      fault={own(faults, 'sizes')}
    >
      {form.sizes.map((one, i) => (
        <div class="row row-beside" key={i}>
          <Field label={`Size ${i + 1}`} value={one.words} onValue={(words) => set(at(form.sizes, i, { words }))} wrong={faultsAt(faults, `sizes.${i}`)} />
          <Field
            label="Quantity"
            value={one.quantity}
            onValue={(quantity) => set(at(form.sizes, i, { quantity }))}
            options={[...QUANTITY_WORDS, { value: '', words: 'a text, such as a material' }]}
          />
          <label class="tick">
            <input type="checkbox" checked={one.many} onChange={(event) => set(at(form.sizes, i, { many: event.currentTarget.checked }))} />
            <span>several values</span>
          </label>
          <LeaveOut what={`size ${one.words || i + 1}`} act={() => set(form.sizes.filter((_, n) => n !== i))} />
        </div>
      ))}
    </Group>
  )
}
