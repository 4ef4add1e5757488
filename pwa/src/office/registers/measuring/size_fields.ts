// The fields of a size of an engine type: nominal, steps, stock, pistons, shims, material.

import type { EngineType } from '../../../trade/engine/parts.ts'
import { QUANTITIES, usualUnit } from '../../../trade/ground/units.ts'
import { MATERIALS, type Size } from '../../../trade/measuring/limits.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { say } from '../../frame/say.ts'
import { always, type FormField, type Option } from '../form/schema.ts'
import { unitsOf } from './units_offered.ts'

/** Sizes that machining and proposals need, whatever the procedure itself lists. */
const machiningSizes = (): Option[] => [
  { value: 'nominal', words: say('limits.size_nominal') },
  { value: 'steps', words: say('limits.size_steps') },
  { value: 'stock', words: say('limits.size_stock') },
  { value: 'pistons', words: say('limits.size_pistons') },
  { value: 'target', words: say('limits.size_target') },
  { value: 'set', words: say('limits.size_shims') },
  { value: 'material', words: say('limits.size_material') },
]

export function newSize(engineType: string, procedures: Procedure[]): Size {
  const procedure = procedures.find(({ sizes }) => sizes.length) ?? procedures[0]!
  const code = procedure.sizes[0]?.code ?? 'nominal'
  const base = { id: '', engine_type: engineType, procedure: procedure.code, code, values: [], unit: usualUnit('length') }
  return { ...base, where: [], source: '', withdrawn: false, note: '' }
}

const materials = (): Option[] => [
  { value: '', words: say('common.choose') },
  ...Object.values(MATERIALS).map(({ code, words, alpha }) => ({ value: code, words: say('limits.material_expansion', { material: words, alpha }) })),
]

const isMaterial = ({ code }: Size) => code === 'material'
const isNumber = (size: Size) => !isMaterial(size)

/** `changed`: the size is already in force, and can be withdrawn. */
export function sizeFields(type: EngineType, procedures: Procedure[], changed: boolean): FormField<Size>[] {
  const procedureOf = (code: string) => procedures.find((procedure) => procedure.code === code)
  const codes = ({ procedure }: Size): Option[] => {
    const listed = (procedureOf(procedure)?.sizes ?? []).map(({ code, words }) => ({ value: code, words }))
    return [...listed, ...machiningSizes().filter(({ value }) => !listed.some((size) => size.value === value))]
  }
  const kindOf = ({ procedure, code }: Pick<Size, 'procedure' | 'code'>) => {
    const measured = procedureOf(procedure)
    const quantity = measured?.sizes.find((size) => size.code === code)?.quantity ?? measured?.quantity ?? ''
    return QUANTITIES.find((known) => known.code === quantity)?.kind ?? 'length'
  }
  const withCode = (procedure: string, code: string, size: Size): Partial<Size> => ({
    ...{ procedure, code, values: [], unit: code === 'material' ? '' : usualUnit(kindOf({ procedure, code })) },
    ...(procedure !== size.procedure && { where: [] }),
  })
  return [
    {
      control: 'choice',
      field: 'procedure',
      label: 'registers.procedure',
      options: () => procedures.map(({ code, name }) => ({ value: code, words: name })),
      change: (code, size) => withCode(code, procedureOf(code)?.sizes[0]?.code ?? 'nominal', size),
    },
    { control: 'choice', field: 'code', label: 'limits.size', options: codes, change: (code, size) => withCode(size.procedure, code, size) },
    {
      control: 'choice',
      field: 'values',
      label: 'limits.material',
      wide: true,
      shown: isMaterial,
      options: materials,
      value: ({ values }) => values[0] ?? '',
      change: (code) => ({ values: code ? [code] : [], unit: '' }),
    },
    { control: 'list', field: 'values', label: 'limits.value', hint: 'limits.value_hint', needed: always, shown: isNumber },
    { control: 'choice', field: 'unit', label: 'common.unit', options: (size) => unitsOf(kindOf(size)), shown: isNumber },
    { control: 'where', field: 'where', label: 'registers.applies_to', type, part: ({ procedure }) => procedureOf(procedure)?.part ?? '' },
    { control: 'text', field: 'source', label: 'common.source', needed: always, hint: 'limits.size_source_hint', wide: true },
    { control: 'lines', field: 'note', label: 'common.note', wide: true },
    { control: 'tick', field: 'withdrawn', label: 'limits.size_withdrawn_tick', shown: () => changed },
  ]
}
