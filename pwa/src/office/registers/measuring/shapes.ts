// What the read API answers about the workshop's own statements; the statements themselves have the trade's shapes.

import type { Gauge } from '../../../trade/measuring/gauges.ts'
import type { Limit, Size } from '../../../trade/measuring/limits.ts'
import type { Named } from '../../frame/shapes.ts'

/** Who said something and when, as every history of the office has it. */
export interface SaidBy {
  position: number
  author: Named
  received: string
}

export interface GaugeShown {
  gauge: Gauge
  history: (SaidBy & { gauge: Gauge })[]
  /** The sheets it gave figures for, when the server says. */
  figures?: { job: string; number: string; procedure: string; name: string; readings: number; overdue: number }[]
}

export interface LimitsShown {
  limits: (Limit & { entry: string; history?: (SaidBy & { limit: Limit })[] })[]
  sizes: (Size & { entry: string; history?: (SaidBy & { size: Size })[] })[]
}
