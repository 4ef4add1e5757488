import { Field } from '../../../parts/controls/Field.tsx'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'
import { faultsAt, faultsOnlyAt } from '../form/faults.ts'
import { Group, RemoveButton } from '../form/Group.tsx'
import { changedAt, withoutAt } from '../form/lists.ts'
import { Tick } from '../form/Tick.tsx'
import { NO_READING, type Typed } from './form.ts'

export interface LinesProps {
  form: Typed
  put: (changes: Partial<Typed>) => void
  faults: FieldFault[]
}

const QUANTITY_OPTIONS = QUANTITIES.map(({ code, words }) => ({ value: code, words }))

export function Axes({ form, put, faults }: LinesProps) {
  const set = (grid: Typed['grid']) => put({ grid })
  const fallback = (i: number) => say('procedures.axis_number', { number: i + 1 })
  return (
    <Group
      name={say('procedures.grid')}
      hint={say('procedures.grid_hint')}
      add={say('procedures.add_axis')}
      onAdd={() => set([...form.grid, { words: '', code: '', values: '' }])}
      fault={faultsOnlyAt(faults, 'grid') || faultsOnlyAt(faults, 'optional')}
    >
      {form.grid.map((axis, i) => (
        <div class="row row-axis" key={i}>
          <Field
            label={fallback(i)}
            value={axis.words}
            onValue={(words) => set(changedAt(form.grid, i, { words }))}
            wrong={faultsOnlyAt(faults, `grid.${i}`) || faultsAt(faults, `grid.${i}.axis`) || faultsOnlyAt(faults, `grid.${i}.words`)}
          />
          <Field
            label={say('procedures.axis_values', { axis: axis.words || fallback(i) })}
            value={axis.values}
            onValue={(values) => set(changedAt(form.grid, i, { values }))}
            lines={Math.max(2, Math.min(6, axis.values.split('\n').length))}
            wrong={faultsAt(faults, `grid.${i}.values`)}
          />
          <RemoveButton label={say('procedures.remove_named', { name: axis.words || fallback(i) })} onRemove={() => set(withoutAt(form.grid, i))} />
        </div>
      ))}
      {form.grid.length > 0 && (
        <Field
          label={say('procedures.may_be_omitted')}
          value={form.optional}
          onValue={(optional) => put({ optional })}
          hint={say('procedures.may_be_omitted_hint')}
        />
      )}
    </Group>
  )
}

export function SeparateReadings({ form, put, faults }: LinesProps) {
  const set = (readings: Typed['readings']) => put({ readings })
  return (
    <Group
      name={say('procedures.separate_readings')}
      add={say('procedures.add_reading')}
      onAdd={() => set([...form.readings, { ...NO_READING, quantity: form.quantity }])}
      fault={faultsOnlyAt(faults, 'readings')}
    >
      {form.readings.map((reading, i) => {
        const label = say('procedures.reading_number', { number: i + 1 })
        return (
          <div class="row row-beside" key={i}>
            <Field
              label={label}
              value={reading.words}
              onValue={(words) => set(changedAt(form.readings, i, { words }))}
              wrong={faultsAt(faults, `readings.${i}`)}
            />
            <Field
              label={say('procedures.quantity')}
              value={reading.quantity}
              onValue={(quantity) => set(changedAt(form.readings, i, { quantity }))}
              options={QUANTITY_OPTIONS}
            />
            <Tick
              label={say('procedures.optional')}
              checked={reading.optional}
              onChange={(optional) => set(changedAt(form.readings, i, { optional }))}
            />
            <RemoveButton label={say('procedures.remove_named', { name: reading.words || label })} onRemove={() => set(withoutAt(form.readings, i))} />
          </div>
        )
      })}
    </Group>
  )
}

export function Sizes({ form, put, faults }: LinesProps) {
  const set = (sizes: Typed['sizes']) => put({ sizes })
  return (
    <Group
      name={say('procedures.sizes')}
      hint={say('procedures.sizes_hint')}
      add={say('procedures.add_size')}
      onAdd={() => set([...form.sizes, { code: '', words: '', quantity: form.quantity, many: false }])}
      fault={faultsOnlyAt(faults, 'sizes')}
    >
      {form.sizes.map((size, i) => {
        const label = say('procedures.size_number', { number: i + 1 })
        return (
          <div class="row row-beside" key={i}>
            <Field label={label} value={size.words} onValue={(words) => set(changedAt(form.sizes, i, { words }))} wrong={faultsAt(faults, `sizes.${i}`)} />
            <Field
              label={say('procedures.quantity')}
              value={size.quantity}
              onValue={(quantity) => set(changedAt(form.sizes, i, { quantity }))}
              options={[...QUANTITY_OPTIONS, { value: '', words: say('procedures.text_quantity') }]}
            />
            <Tick label={say('procedures.several_values')} checked={size.many} onChange={(many) => set(changedAt(form.sizes, i, { many }))} />
            <RemoveButton label={say('procedures.remove_named', { name: size.words || label })} onRemove={() => set(withoutAt(form.sizes, i))} />
          </div>
        )
      })}
    </Group>
  )
}
