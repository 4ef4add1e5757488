import type { Named } from '../frame/shapes.ts'

/** One description of something in a register: who saved it and when. */
export interface Revision {
  position: number
  author: Named
  received: string
}
