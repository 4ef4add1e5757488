// What the read API answers about the workshop's own statements.

export type { Gauges, GaugeShown, Limits as LimitsShown, ProcedureListed, Procedures, Rules as RulesShown } from '../../../wire/openapi.d.ts'
