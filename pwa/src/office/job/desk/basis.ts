// What a reading taken at the desk is judged by: the entries of the workshop that count at that moment. A reading names
// them, so that a limit changed later never changes what was judged then.

import { basisFor, known } from '../../../trade/measuring/known.ts'
import type { KnownEntry } from '../../../trade/measuring/entries.ts'
import { ask } from '../../frame/api.ts'
import { today } from '../../registers/measuring/dates.ts'
import type { Gauge } from '../../../trade/measuring/gauges.ts'
import type { Limit, Size } from '../../../trade/measuring/limits.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import type { Rules } from '../../../trade/measuring/rules.ts'

type With<T> = T & { entry?: string }

export interface Register {
  gauges: With<Gauge>[]
  limits: With<Limit>[]
  sizes: With<Size>[]
  procedures: With<{ procedure: Procedure }>[]
  rules: { rules: Rules; history: { entry: string }[] }
}

/** Asks the server for all that counts for an engine type; throws Trouble. */
export async function register(engineType: string): Promise<Register> {
  const [gauges, procedures, rules, limits] = await Promise.all([
    ask<{ gauges: With<Gauge>[] }>('/api/gauges'),
    ask<{ procedures: With<{ procedure: Procedure }>[] }>('/api/procedures'),
    ask<Register['rules']>('/api/measuring-rules'),
    engineType
      ? ask<{ limits: With<Limit>[]; sizes: With<Size>[] }>(`/api/engine-types/${engineType}/limits`)
      : Promise.resolve({ limits: [], sizes: [] }),
  ])
  return { gauges: gauges.gauges, procedures: procedures.procedures, rules, ...limits }
}

/** The identifiers of the entries that a reading taken today is judged by. */
export function basisOf(of: Register, engineType: string, procedure: string, place: string, gauge: string): string[] {
  const said = (entry: string | undefined, kind: string, field: string, what: unknown): KnownEntry[] =>
    entry ? [{ id: entry, kind, body: { [field]: what }, claimed: '' }] : []
  const all = known([
    ...of.gauges.flatMap((one) => said(one.entry, 'gauge_described', 'gauge', one)),
    ...of.limits.flatMap((one) => said(one.entry, 'limit_set', 'limit', one)),
    ...of.sizes.flatMap((one) => said(one.entry, 'size_set', 'size', one)),
    ...of.procedures.flatMap((one) => said(one.entry, 'procedure_described', 'procedure', one.procedure)),
    ...said(of.rules.history[0]?.entry, 'measuring_rules_set', 'rules', of.rules.rules),
  ])
  return basisFor(all, engineType, procedure, place, gauge, today())
}
