// The checks of what only the desk writes: engine types, gauges, limits, procedures, tightening sheets … Importing this
// brings them to kinds.ts; the phone does without, and its app stays small.

import { check as checkEngineType } from '../engine/types.ts'
import { check as checkGauge } from '../measuring/gauges.ts'
import { takeChecks } from './kinds.ts'
import { check as checkLimit, checkSize } from '../measuring/limits.ts'
import { check as checkRules } from '../measuring/rules.ts'
import { check as checkProcedure } from '../measuring/procedures.ts'
import type { Check } from '../ground/shapes.ts'
import { check as checkSheet } from '../tightening/sheets.ts'
import { check as checkTool } from '../tightening/tools.ts'

/** The check of a field that holds a whole description: it is taken when nothing is wrong with it. */
function freeOfFaults(thing: string, check: (value: unknown) => { message: string }[]): Check {
  return (value) => {
    const fault = check(value)[0]
    return fault ? `cannot be used as ${thing}. ${fault.message.replace(/\.+$/, '')}` : null
  }
}

takeChecks({
  engine_type: freeOfFaults('an engine type', checkEngineType),
  gauge: freeOfFaults('a gauge', checkGauge),
  limit: freeOfFaults('a limit', checkLimit),
  size: freeOfFaults('a size', checkSize),
  procedure: freeOfFaults('a procedure', checkProcedure),
  tightening_sheet: freeOfFaults('a tightening sheet', checkSheet),
  torque_tool: freeOfFaults('a torque tool', checkTool),
  measuring_rules: freeOfFaults('measuring rules', checkRules),
})
