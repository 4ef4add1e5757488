// The fields of a limit of an engine type.

import type { EngineType } from '../../../trade/engine/parts.ts'
import { UNITS, usualUnit } from '../../../trade/ground/units.ts'
import { SORTS, type Limit } from '../../../trade/measuring/limits.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { always, type FormField } from '../form/schema.ts'
import { unitsOf } from './units_offered.ts'

export function newLimit(engineType: string, procedures: Procedure[]): Limit {
  const procedure = procedures[0]!
  const figure = procedure.figures[0]
  return {
    ...{ id: '', engine_type: engineType, procedure: procedure.code, figure: figure?.code ?? '', sort: 'service' as const },
    ...{ low: '', high: '', unit: usualUnit(figure?.kind ?? 'length'), where: [], source: '' },
    ...{ valid_from: '', valid_until: '', withdrawn: false, note: '' },
  }
}

/** `changed`: the limit is already in force, and can be withdrawn. */
export function limitFields(type: EngineType, procedures: Procedure[], changed: boolean): FormField<Limit>[] {
  const procedureOf = (code: string) => procedures.find((procedure) => procedure.code === code)
  const figureOf = (procedure: string, code: string) => procedureOf(procedure)?.figures.find((figure) => figure.code === code)
  const kindOf = ({ procedure, figure }: Limit) => figureOf(procedure, figure)?.kind ?? 'length'
  const withFigure = (procedure: string, figure: string, limit: Limit): Partial<Limit> => {
    const line = figureOf(procedure, figure)
    const unit = line && UNITS[limit.unit]?.kind === line.kind ? limit.unit : usualUnit(line?.kind ?? 'length')
    return { procedure, figure, unit, ...(procedure !== limit.procedure && { where: [] }) }
  }
  return [
    {
      control: 'choice',
      field: 'procedure',
      label: 'registers.procedure',
      options: () => procedures.map(({ code, name }) => ({ value: code, words: name })),
      change: (code, limit) => withFigure(code, procedureOf(code)?.figures[0]?.code ?? '', limit),
    },
    {
      control: 'choice',
      field: 'figure',
      label: 'registers.figure',
      options: ({ procedure }) => (procedureOf(procedure)?.figures ?? []).map(({ code, words }) => ({ value: code, words })),
      change: (code, limit) => withFigure(limit.procedure, code, limit),
    },
    {
      control: 'choice',
      field: 'sort',
      label: 'limits.type',
      options: () => Object.entries(SORTS).map(([value, words]) => ({ value, words })),
    },
    { control: 'choice', field: 'unit', label: 'common.unit', options: (limit) => unitsOf(kindOf(limit)) },
    { control: 'number', field: 'low', label: 'limits.minimum', hint: 'limits.no_end_hint' },
    { control: 'number', field: 'high', label: 'limits.maximum', hint: 'limits.no_end_hint' },
    { control: 'where', field: 'where', label: 'registers.applies_to', type, part: ({ procedure }) => procedureOf(procedure)?.part ?? '' },
    { control: 'text', field: 'source', label: 'common.source', needed: always, hint: 'limits.source_hint', wide: true },
    { control: 'day', field: 'valid_from', label: 'limits.valid_from' },
    { control: 'day', field: 'valid_until', label: 'limits.valid_until' },
    { control: 'lines', field: 'note', label: 'common.note', wide: true },
    { control: 'tick', field: 'withdrawn', label: 'limits.withdrawn_tick', shown: () => changed },
  ]
}
