// What a reading taken at the desk is judged by: the workshop's entries in force at that moment. A reading names them, so
// that a limit changed later never changes the verdict of that time.

import { basisFor, known } from '../../../trade/measuring/known.ts'
import type { KnownEntry } from '../../../trade/measuring/entries.ts'
import { get } from '../../frame/api.ts'
import { today } from '../../registers/measuring/dates.ts'
import type { Gauges, LimitsShown, ProcedureListed, Procedures, RulesShown } from '../../registers/measuring/shapes.ts'

export interface Register extends LimitsShown {
  gauges: Gauges['gauges']
  procedures: ProcedureListed[]
  rules: RulesShown
}

/** Fetches everything in force for an engine type; throws ApiError. */
export async function register(engineType: string): Promise<Register> {
  const [gauges, procedures, rules, limits] = await Promise.all([
    get<Gauges>('/api/gauges'),
    get<Procedures>('/api/procedures'),
    get<RulesShown>('/api/measuring-rules'),
    engineType
      ? get<LimitsShown>(`/api/engine-types/${engineType}/limits`)
      : Promise.resolve({ limits: [], sizes: [] }),
  ])
  return { gauges: gauges.gauges, procedures: procedures.procedures, rules, ...limits }
}

/** The identifiers of the entries that a reading taken today is judged by. */
export function basisOf(of: Register, engineType: string, procedure: string, place: string, gauge: string): string[] {
  const asEntry = (entry: string | undefined, kind: string, field: string, data: unknown): KnownEntry[] =>
    entry ? [{ id: entry, kind, body: { [field]: data }, claimed: '' }] : []
  const all = known([
    ...of.gauges.flatMap((row) => asEntry(row.entry, 'gauge_described', 'gauge', row)),
    ...of.limits.flatMap((row) => asEntry(row.entry, 'limit_set', 'limit', row)),
    ...of.sizes.flatMap((row) => asEntry(row.entry, 'size_set', 'size', row)),
    ...of.procedures.flatMap((row) => asEntry(row.entry, 'procedure_described', 'procedure', row.procedure)),
    ...asEntry(of.rules.history[0]?.entry, 'measuring_rules_set', 'rules', of.rules.rules),
  ])
  return basisFor(all, engineType, procedure, place, gauge, today())
}
