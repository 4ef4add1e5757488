// Torque tools in words.

import { exactText } from '../../../trade/ground/amounts.ts'
import { CLASSES, deviation, SORTS, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { usable } from '../../../trade/tightening/values.ts'
import { UNITS } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'
import type { Option } from '../form/schema.ts'

export function sortWords(code: string): string {
  return SORTS[code]?.words ?? code.replaceAll('_', ' ')
}

/** What a click wrench is used for, when that is less than its range; "" otherwise. */
export function usedWords(tool: TorqueTool): string {
  const [low, high] = usable(tool)
  if (tool.sort !== 'click' || !low || !high) return ''
  return say('tools.used_range', { low: exactText(low), high: exactText(high), unit: tool.unit })
}

/** "±4 %" and where it is from, "ISO 6789-1, class II A"; null where neither the tool nor its class gives it. */
export function knownDeviation(tool: TorqueTool): { value: string; from: string } | null {
  const [amount, from] = deviation(tool)
  return amount && { value: `±${exactText(amount)} %`, from }
}

/** "±4 %", or "not known". */
export function deviationWords(tool: TorqueTool): string {
  return knownDeviation(tool)?.value ?? say('tools.not_known')
}

/** The units that a type of tool reads in. */
export function unitsFor(sort: string): Option[] {
  return Object.entries(UNITS)
    .filter(([code, { kind }]) => code && kind === SORTS[sort]?.kind)
    .map(([value, { words }]) => ({ value, words: value === words ? value : `${value}, ${words}` }))
}

/** The classes of ISO 6789-1 that a type can have. */
export function classesFor(sort: string): Option[] {
  const type = SORTS[sort]?.type
  const classes = Object.values(CLASSES).filter(({ code }) => type && code.split(' ')[0] === type)
  return [{ value: '', words: say('registers.not_given') }, ...classes.map(({ code, words }) => ({ value: code, words: `${code}, ${words}` }))]
}

/** "after 5,000 cycles, counted from 200" */
export function cyclesWords({ cycles_most, cycles_at_calibration }: TorqueTool): string {
  if (!cycles_most) return say('tools.not_counted')
  if (!cycles_at_calibration) return say('tools.after_cycles', { count: cycles_most })
  return say('tools.after_cycles_from', { count: cycles_most, start: cycles_at_calibration })
}
