import { say } from '../frame/say.ts'

/** The range of a gauge or tool: "50 to 160 mm", "up to 160 mm", "from 50 mm"; the unit alone where no end is known. */
export function rangeWords({ low, high, unit }: { low: string; high: string; unit: string }): string {
  if (low && high) return say('registers.range', { low, high, unit })
  if (high) return say('registers.range_up_to', { high, unit })
  return low ? say('registers.range_at_least', { low, unit }) : unit
}
