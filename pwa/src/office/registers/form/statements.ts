// The statements that are typed in a form drawn from a schema.

import type { FieldFault } from '../../../trade/ground/errors.ts'
import type { Gauge } from '../../../trade/measuring/gauges.ts'
import type { Limit, Size } from '../../../trade/measuring/limits.ts'
import type { TorqueTool } from '../../../trade/tightening/tools.ts'
import { say } from '../../frame/say.ts'

/** Each sort of statement and its shape. */
export interface Statements {
  gauge: Gauge
  torque_tool: TorqueTool
  limit: Limit
  size: Size
}

/** `value`: what the server checks; `known`: the faults that are known without it. An empty name hides no other fault. */
export function withName<T extends object>(statement: T): { value: T; known: FieldFault[] } {
  if (!('name' in statement) || statement.name) return { value: statement, known: [] }
  return { value: { ...statement, name: 'unnamed' }, known: [{ where: 'name', message: say('registers.name_missing') }] }
}
