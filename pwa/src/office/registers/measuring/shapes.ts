// What the read API answers about the workshop's own statements.

import type { GaugeSaid } from '../../../wire/openapi.d.ts'

export type { Gauges, GaugeShown, Limits as LimitsShown, ProcedureListed, Procedures, Rules as RulesShown } from '../../../wire/openapi.d.ts'

/** Who said something and when, as every history of the office has it. */
export type SaidBy = Omit<GaugeSaid, 'gauge'>
