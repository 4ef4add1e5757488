import { Choice, Field } from '../../../parts/controls/Field.tsx'
import { OPTIONAL_PARTS, PARTS } from '../../../trade/engine/parts.ts'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { say } from '../../frame/say.ts'
import { faultsAt, faultsOnlyAt } from '../form/faults.ts'
import { Group, RemoveButton } from '../form/Group.tsx'
import { changedAt, withoutAt } from '../form/lists.ts'
import type { TypedBank, TypedShaft } from './form.ts'

interface BanksProps {
  banks: TypedBank[]
  put: (banks: TypedBank[]) => void
  faults: FieldFault[]
}

export function Banks({ banks, put, faults }: BanksProps) {
  const cell = (i: number, field: keyof TypedBank, label: string) => ({
    label,
    value: banks[i]![field],
    onValue: (value: string) => put(changedAt(banks, i, { [field]: value })),
    wrong: faultsAt(faults, `banks.${i}.${field}`),
  })
  return (
    <Group name={say('engine_types.banks')} fault={faultsOnlyAt(faults, 'banks')}>
      {banks.map((_, i) => (
        <div class="row row-bank" key={i}>
          <Field {...cell(i, 'code', say('engine_types.bank_letter'))} />
          <Field {...cell(i, 'name', say('engine_types.bank_side'))} />
          <Field {...cell(i, 'cylinders', say('engine_types.bank_cylinders'))} figures />
          <Field {...cell(i, 'stagger_mm', say('engine_types.bank_stagger'))} figures />
        </div>
      ))}
    </Group>
  )
}

interface ShaftsProps {
  shafts: TypedShaft[]
  banks: TypedBank[]
  put: (shafts: TypedShaft[]) => void
  faults: FieldFault[]
}

const nextShaft = (shafts: TypedShaft[]): TypedShaft => ({
  code: shafts.length ? `shaft_${shafts.length + 1}` : 'block',
  bank: '',
  drives: 'inlet exhaust',
})

export function Camshafts({ shafts, banks, put, faults }: ShaftsProps) {
  const positions = [
    { value: '', words: say('engine_types.all_banks') },
    ...banks.map(({ code }) => ({ value: code, words: say('engine_types.bank', { letter: code }) })),
  ]
  const drives = [
    { value: 'inlet exhaust', words: say('engine_types.drives_both') },
    { value: 'inlet', words: say('engine_types.drives_inlet') },
    { value: 'exhaust', words: say('engine_types.drives_exhaust') },
  ]
  const cell = (i: number, field: keyof TypedShaft, label: string) => ({
    label,
    value: shafts[i]![field],
    onValue: (value: string) => put(changedAt(shafts, i, { [field]: value })),
  })
  return (
    <Group name={say('engine_types.camshafts')} add={say('engine_types.add_camshaft')} onAdd={() => put([...shafts, nextShaft(shafts)])}>
      {shafts.map((shaft, i) => (
        <div class="row row-shaft" key={i}>
          <Field {...cell(i, 'code', say('registers.code'))} wrong={faultsAt(faults, `camshafts.${i}`)} />
          <Field {...cell(i, 'bank', say('engine_types.camshaft_position'))} options={positions} />
          <Field {...cell(i, 'drives', say('engine_types.camshaft_drives'))} options={drives} />
          <RemoveButton label={say('engine_types.remove_camshaft', { code: shaft.code })} onRemove={() => put(withoutAt(shafts, i))} />
        </div>
      ))}
    </Group>
  )
}

export function Pieces({ pieces, put }: { pieces: string[]; put: (pieces: string[]) => void }) {
  return (
    <Choice
      label={say('engine_types.also_has')}
      many
      options={OPTIONAL_PARTS.map((code) => ({ value: code, words: PARTS[code]?.name ?? code }))}
      chosen={pieces}
      onChoose={(code) => put(pieces.includes(code) ? pieces.filter((piece) => piece !== code) : [...pieces, code])}
    />
  )
}
