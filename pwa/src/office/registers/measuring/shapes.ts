// What the read API answers about the workshop's own statements; the statements themselves have the trade's shapes.

import type { Gauge } from '../../../trade/measuring/gauges.ts'
import type { Limit, Size } from '../../../trade/measuring/limits.ts'
import type { Revision } from '../shapes.ts'

export interface GaugeShown {
  gauge: Gauge
  history: (Revision & { gauge: Gauge })[]
  /** The sheets it gave figures for, when the server says. */
  figures?: { job: string; number: string; procedure: string; name: string; readings: number; overdue: number }[]
}

export interface LimitsShown {
  limits: (Limit & { entry: string; history?: (Revision & { limit: Limit })[] })[]
  sizes: (Size & { entry: string; history?: (Revision & { size: Size })[] })[]
}
