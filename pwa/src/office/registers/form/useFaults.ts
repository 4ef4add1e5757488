// What is wrong with a statement while it is typed. What is new has no identifier yet, and that is no fault of what is typed.

import type { Fault } from '../../../trade/ground/errors.ts'
import { check as checkGauge, type Gauge } from '../../../trade/measuring/gauges.ts'
import { check as checkLimit, checkSize, type Limit, type Size } from '../../../trade/measuring/limits.ts'
import { check as checkRules, type Rules } from '../../../trade/measuring/rules.ts'
import { check as checkTool, type TorqueTool } from '../../../trade/tightening/tools.ts'

/** Each sort of statement and its shape. */
export interface Statements {
  gauge: Gauge
  torque_tool: TorqueTool
  limit: Limit
  size: Size
  measuring_rules: Rules
}

const NO_ID = '00000000-0000-4000-8000-000000000000'

const identified = <T extends { id: string }>(statement: T): T => ({ ...statement, id: statement.id || NO_ID })

const CHECKS: { [Sort in keyof Statements]: (value: Statements[Sort]) => Fault[] } = {
  gauge: (gauge) => checkGauge(identified(gauge)),
  torque_tool: (tool) => checkTool(identified(tool)),
  limit: (limit) => checkLimit(identified(limit)),
  size: (size) => checkSize(identified(size)),
  measuring_rules: checkRules,
}

/** The faults of a statement as it is typed now, each with its field. */
export function useFaults<Sort extends keyof Statements>(sort: Sort, value: Statements[Sort]): Fault[] {
  return CHECKS[sort](value)
}
