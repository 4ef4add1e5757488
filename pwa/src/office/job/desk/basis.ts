// What a reading taken at the desk is judged by: the entries of the workshop that count at that moment. A reading names
// them, so that a limit changed later never changes what was judged then.

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

/** Asks the server for all that counts for an engine type; throws ApiError. */
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
