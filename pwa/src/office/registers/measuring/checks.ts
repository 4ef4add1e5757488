// The checks of the trade as the forms ask them: what is new has no identifier yet, and that is no fault of what is typed.

import type { Fault } from '../../../trade/ground/errors.ts'
import { check as checkGauge, type Gauge } from '../../../trade/measuring/gauges.ts'
import { check as checkLimit, checkSize, type Limit, type Size } from '../../../trade/measuring/limits.ts'

const NO_ID = '00000000-0000-4000-8000-000000000000'

export function gaugeFaults(gauge: Gauge): Fault[] {
  return checkGauge({ ...gauge, id: gauge.id || NO_ID })
}

export function limitFaults(limit: Limit): Fault[] {
  return checkLimit({ ...limit, id: limit.id || NO_ID })
}

export function sizeFaults(size: Size): Fault[] {
  return checkSize({ ...size, id: size.id || NO_ID })
}
