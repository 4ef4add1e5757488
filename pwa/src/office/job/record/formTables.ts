// What the form of a correction may choose from: the gauges of the register, and the procedure that asked for the reading.

import type { Gauge } from '../../../trade/measuring/gauges.ts'
import { BUILT_IN, type Procedure } from '../../../trade/measuring/procedures.ts'
import { correctable, fieldFacts, type FormTables } from '../../../trade/record/fields.ts'
import { useGet } from '../../frame/useGet.ts'
import type { Item } from '../../frame/shapes.ts'

/** The tables that the fields of this record are chosen from; empty until they are here, and where none is needed. */
export function useFormTables(item: Item): FormTables {
  const wanted = correctable(item).map((field) => fieldFacts(item.kind, field).as)
  const code = wanted.includes('reading') ? String(item.body['procedure'] ?? '') : ''
  const gauges = useGet<{ gauges: Gauge[] }>(wanted.includes('gauge') ? '/api/gauges' : null).data?.gauges ?? []
  const listed = useGet<{ procedures: { procedure: Procedure }[] }>(code && !BUILT_IN[code] ? '/api/procedures' : null)
  const procedure = BUILT_IN[code] ?? listed.data?.procedures.find((row) => row.procedure.code === code)?.procedure ?? null
  return { gauges, procedure }
}
