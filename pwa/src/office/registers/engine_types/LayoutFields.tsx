import { Choice, Field, type FieldProps } from '../../../parts/controls/Field.tsx'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { say, type SentenceKey } from '../../frame/say.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { faultsAt } from '../form/faults.ts'
import { usual, type Typed } from './form.ts'

type TextField = 'name' | 'bank_angle' | 'cylinders' | 'mains' | 'firing_order' | 'crankpins' | 'notes'

/** What a cell of the form shows, for the field of that name. */
export type Cell = (field: TextField, label: SentenceKey) => Pick<FieldProps, 'label' | 'value' | 'onValue'> & { wrong: string }

interface Props {
  form: Typed
  put: (changes: Partial<Typed>) => void
  cell: Cell
}

/** Name, layout and the numbers that follow from it. Another layout or number of cylinders brings its usual arrangement. */
export function LayoutFields({ form, put, cell }: Props) {
  const arrange = (layout: EngineType['layout'], cylinders: string) => {
    const n = layout === 'single' ? 1 : Number(cylinders)
    const possible = Number.isInteger(n) && n >= 1 && n <= 32
    const { id, name, notes, pieces, invented } = form
    put(possible ? { ...usual(layout, n), id, name, notes, pieces, invented } : { layout, cylinders })
  }
  return (
    <>
      <Field {...cell('name', 'common.name')} needed {...(!form.name && { hint: say('registers.name_hint') })} />
      <Choice
        label={say('engine_types.layout')}
        options={[
          { value: 'inline', words: say('engine_types.layout_inline') },
          { value: 'v', words: say('engine_types.layout_v') },
          { value: 'flat', words: say('engine_types.layout_flat') },
          { value: 'single', words: say('engine_types.layout_single') },
        ]}
        chosen={[form.layout]}
        onChoose={(layout) => layout !== form.layout && arrange(layout, form.cylinders)}
      />
      <div class="block halves">
        <Field {...cell('cylinders', 'engine_types.cylinders')} figures keys="numeric" onValue={(value) => arrange(form.layout, value)} />
        <Field {...cell('bank_angle', 'engine_types.bank_angle')} figures keys="numeric" />
        <Field {...cell('mains', 'engine_types.mains')} figures keys="numeric" />
        <Field {...cell('firing_order', 'engine_types.firing_order')} figures hint="1 3 4 2" />
      </div>
    </>
  )
}

/** Crankpins, rotation and valves. */
export function CrankFields({ form, put, cell, faults }: Props & { faults: FieldFault[] }) {
  const valves = (side: 'inlet' | 'exhaust', label: string) => (
    <Field label={label} value={form[side]} onValue={(value) => put({ [side]: value })} figures keys="numeric" wrong={faultsAt(faults, `valves.${side}`)} />
  )
  return (
    <div class="block halves">
      <Field
        {...cell('crankpins', 'engine_types.crankpins')}
        figures
        lines={Math.min(8, form.crankpins.split('\n').length + 1)}
        hint={say('engine_types.crankpins_hint')}
      />
      <div>
        <Field
          label={say('engine_types.rotation')}
          value={form.rotation}
          onValue={(rotation) => put({ rotation: rotation as EngineType['rotation'] })}
          options={[
            { value: 'clockwise', words: say('engine_types.clockwise') },
            { value: 'anticlockwise', words: say('engine_types.anticlockwise') },
          ]}
        />
        <Field
          label={say('engine_types.front')}
          value={form.front}
          onValue={(front) => put({ front: front as EngineType['front'] })}
          options={[
            { value: 'away_from_flywheel', words: say('engine_types.front_away') },
            { value: 'flywheel_end', words: say('engine_types.front_flywheel') },
          ]}
        />
      </div>
      {valves('inlet', say('engine_types.inlet_valves'))}
      {valves('exhaust', say('engine_types.exhaust_valves'))}
    </div>
  )
}
