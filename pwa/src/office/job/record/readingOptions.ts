// The words to choose from where a reading is corrected: its place in the grid, its state, the gauge, the material.

import type { Gauge } from '../../../trade/measuring/gauges.ts'
import { KINDS } from '../../../trade/record/kinds.ts'
import { MATERIALS } from '../../../trade/measuring/limits.ts'
import { pointWords, readingCodes, type Procedure, BUILT_IN } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { useAsk } from '../../frame/useAsk.ts'
import type { Item } from '../../frame/shapes.ts'

export interface Option {
  value: string
  words: string
}

/** What a reading's fields may be corrected to, by field; fields that are typed are left out. Empty for other records. */
export function useReadingOptions(item: Item): { options: Record<string, Option[]>; procedure: Procedure | null } {
  const asks = item.kind === 'measured' && 'gauge_id' in item.body
  const gauges = useAsk<{ gauges: Gauge[] }>(asks ? '/api/gauges' : null).told?.gauges ?? []
  const code = asks ? String(item.body['procedure'] ?? '') : ''
  const listed = useAsk<{ procedures: { procedure: Procedure }[] }>(code && !BUILT_IN[code] ? '/api/procedures' : null)
  const procedure = BUILT_IN[code] ?? listed.told?.procedures.find((one) => one.procedure.code === code)?.procedure ?? null
  if (item.kind === 'finding_made') return { options: { disposition: choices('finding_made', 'disposition') }, procedure: null }
  if (!asks) return { options: {}, procedure: null }
  return {
    procedure,
    options: {
      state: choices('measured', 'state'),
      quantity: QUANTITIES.map((one) => ({ value: one.code, words: one.words })),
      material: [{ value: '', words: 'not said' }, ...Object.values(MATERIALS).map((one) => ({ value: one.code, words: one.words }))],
      gauge_id: [
        { value: '', words: 'none of the register' },
        ...gauges.map(({ id, name }) => ({ value: id, words: name })),
      ],
      ...(procedure && {
        reading: readingCodes(procedure).map((value) => ({ value, words: pointWords(procedure, value) })),
      }),
    },
  }
}

/** The words of a choice, as its kind's own table has them. */
function choices(kind: string, field: string): Option[] {
  const of = (KINDS[kind]?.fields[field] as { of?: Record<string, string> } | undefined)?.of ?? {}
  return Object.entries(of).map(([value, words]) => ({ value, words: words || 'not said' }))
}

/** A value that is not among the words to choose from is kept as it is: it is added to them. */
export function withOwn(options: Option[] | undefined, value: string): Option[] | undefined {
  if (!options || options.some((one) => one.value === value)) return options
  return [{ value, words: value }, ...options]
}
