import type { GaugeStatement } from '../../wire/openapi.d.ts'

/** One description of something in a register: who saved it and when. */
export type Revision = Omit<GaugeStatement, 'gauge' | 'entry'>
